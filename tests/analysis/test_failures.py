"""A question that fails leaves the others answered, is logged, and quotes nobody."""

import logging

import pytest
from hypothesis import example, given, settings

from journal.analysis import comparisons, findings
from journal.analysis.diagnosis import diagnose as diagnosis
from journal.analysis.failures import Questions, work_out
from journal.analysis.findings import find_out
from journal.analysis.records import TrialRecord
from journal.analysis.technique import ShareReason, part_shares, share_intervals
from journal.analysis.verdicts import Verdict
from tests.analysis.trial_records import trials
from tests.factories.flat_tables import as_records, flat_tables, one_zone_a_child
from tests.factories.group_records import Told


def _fail(*_: object, **__: object) -> None:
    raise ZeroDivisionError("Ada typed this")


@settings(max_examples=150, deadline=None)
@example(one_zone_a_child())
@given(flat_tables())
def test_shares_of_flat_tables_add_up(told: list[Told]) -> None:
    """With no scatter within cells shares are shares, or there is a reason against them."""
    found = part_shares(as_records(told))
    intervals = share_intervals(as_records(told), seed=1, draws=5)
    shares = [found.device, found.own_part, found.use, found.fit, found.consistency]
    known = [share for share in shares if share is not None]
    assert found.reason is not ShareReason.NOT_WORKED_OUT
    assert (found.reason is None) == bool(known)
    assert all(0.0 <= share <= 1.0 for share in known)
    assert not known or abs(sum(known) - 1.0) < 1e-9
    assert bool(intervals) == bool(known)


def test_what_hangs_on_the_child_is_use() -> None:
    """Each child hits one zone whatever the device: all of it is use."""
    found = part_shares(as_records(one_zone_a_child()))
    assert found.use is not None
    assert found.use > 0.99


@pytest.mark.failures
def test_a_failure_gives_what_stands_for_it(caplog: pytest.LogCaptureFixture) -> None:
    """The answer, or the other value; the log has the place, and nothing that was typed."""
    assert 3 == work_out("sums", lambda: 3, 0)
    assert 0 == work_out("sums of a test", lambda: _fail() or 3, 0)
    assert [logging.ERROR] == [record.levelno for record in caplog.records]
    assert "ZeroDivisionError" in caplog.text
    assert "test_failures.py" in caplog.text
    assert "Ada" not in caplog.text


@pytest.mark.failures
def test_the_same_failure_is_logged_once_then_counted(caplog: pytest.LogCaptureFixture) -> None:
    """A page that asks a hundred times writes three lines, not a hundred traces."""
    questions = Questions()
    for _ in range(100):
        assert () == questions.ask("a place that fails often", lambda: _fail() or (), ())
    assert 3 == len(caplog.records)
    assert [1, 0, 0] == [record.getMessage().count("\n  ") > 0 for record in caplog.records]
    assert ["a place that fails often"] == questions.failed


@pytest.mark.failures
@pytest.mark.parametrize(
    ("name", "empty"),
    [
        ("summarise_trials", "numbers"),
        ("spread_of", "hits"),
        ("practice_over", "practice"),
        ("part_shares", "parts"),
        ("find_amount_within", "amount"),
        ("contrast_handlings", "handling"),
        ("compare_revisions", "comparisons"),
    ],
)
def test_one_question_that_fails_is_named(
    monkeypatch: pytest.MonkeyPatch, name: str, empty: str
) -> None:
    """Everything else is found; the JSON carries the reason."""
    records = _two_revisions(f"failing {name}")
    whole = find_out(records, group="Owls").as_json()
    monkeypatch.setattr(findings, name, _fail)
    found = find_out(records, group="Larks").as_json()
    assert [f"{empty}: could not be worked out from these trials"] == found.pop("cannot_say")
    assert list(whole) == list(found)
    same = {key for key, value in found.items() if value == whole[key]}
    affected = {"numbers": "revisions", "hits": "revisions", "amount": ""}.get(empty, empty)
    # No hits are known here and nothing was handled, so these say nothing either way.
    assert {"group", affected} - {""} >= {"group"} | (set(whole) - same)


@pytest.mark.failures
def test_one_comparison_that_fails_leaves_the_others(monkeypatch: pytest.MonkeyPatch) -> None:
    """Three are asked for, the first one fails: it cannot be said, the others can."""
    measure, calls = comparisons.measure, []

    def fail_first(*given: object) -> object:
        calls.append(given)
        return _fail() if len(calls) == 1 else measure(*given)  # type: ignore[arg-type]

    two = _two_revisions("first")
    records = [*two, *trials("C", [2, 3, 2, 3], student=two[0].student, start=9)]
    monkeypatch.setattr(comparisons, "measure", fail_first)
    found = comparisons.compare_revisions(records)
    assert Verdict.CANNOT_SAY is found[0].verdict
    assert all(one.p_value is not None for one in found[1:])
    assert len(found) > 1


@pytest.mark.failures
def test_a_diagnosis_that_fails_cannot_tell(monkeypatch: pytest.MonkeyPatch) -> None:
    """It abstains, with the reason."""
    monkeypatch.setattr(diagnosis, "find_posterior", _fail)
    found = diagnosis.diagnose(_two_revisions("diagnosed"))
    assert found.abstained
    assert ["not_worked_out"] == [reason.key.value for reason in found.reasons]


def _two_revisions(student: str) -> list[TrialRecord]:
    first, other = f"{student} a", f"{student} b"
    return [
        *trials("A", [2, 4], student=first, start=1),
        *trials("A", [4, 1], student=other, start=3),
        *trials("B", [8, 4], student=first, start=5),
        *trials("B", [4, 2], student=other, start=7),
    ]
