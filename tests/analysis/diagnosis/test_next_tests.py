"""Which test is proposed, and why: the rule at both sides of each limit.

That guests bring their own use, and that an exchange tells a part from its user, are common
practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from journal.analysis.diagnosis.causes import Cause
from journal.analysis.diagnosis.frame import frame_of_side
from journal.analysis.diagnosis.next_tests import Because, NextTest, TestKind, choose_next_test
from journal.analysis.diagnosis.trials import collect_trials
from journal.analysis.records import TrialRecord
from journal.domain.outcomes import MORE_IS_BETTER
from tests.analysis.diagnosis.drawn_hits import LOW, guests_of, hits_of

SHARED = {Cause.DEVICE_OFFSET: 0.5, Cause.USE_ALL_STEADY: 0.4}
SOME = {Cause.USE_SOME: 0.6, Cause.DEVICE_SCATTER: 0.2}
SOUND = {Cause.USE_SOME: 0.1}


def _choose(
    present: dict[Cause, float], records: list[TrialRecord] | None = None, surest: float = 0.6
) -> NextTest | None:
    trials = collect_trials(records or hits_of(LOW), frame_of_side(600.0), MORE_IS_BETTER, None)
    return choose_next_test(dict.fromkeys(Cause, 0.0) | present, surest, trials)


@pytest.mark.parametrize(
    ("present", "kind", "because"),
    [
        (SHARED, TestKind.GUESTS, Because.ALL_ALIKE),
        (SOME, TestKind.EXCHANGE, Because.SOME_OR_OWN_PART),
        ({Cause.OWN_PART: 0.6}, TestKind.EXCHANGE, Because.SOME_OR_OWN_PART),
        ({Cause.USE_SOME: 0.45, Cause.LOAD: 0.46}, TestKind.GUESTS, Because.ALL_ALIKE),
    ],
)
def test_what_differs_is_exchanged_and_what_all_share_is_put_to_guests(
    present: dict[Cause, float], kind: TestKind, because: Because
) -> None:
    """Some or own part above device and use of all: exchange; else guests."""
    found = _choose(present)
    assert found is not None
    assert (kind, because, 8, 10) == (found.kind, found.because, found.launches, found.minutes)


def test_without_own_parts_there_is_nothing_to_exchange() -> None:
    """Then guests are the next best."""
    bare = [replace(record, own_part="") for record in hits_of(LOW)]
    found = _choose(SOME, bare)
    assert found is not None
    assert TestKind.GUESTS == found.kind


@pytest.mark.parametrize(("surest", "is_proposed"), [(0.89, True), (0.9, False)])
def test_nothing_is_proposed_where_one_reading_is_sure(surest: float, *, is_proposed: bool) -> None:
    """From nine in ten on no test is worth its minutes."""
    assert is_proposed == (_choose(SHARED, surest=surest) is not None)


def test_after_two_rounds_of_guests_their_device_is_next() -> None:
    """More guests would tell little more."""
    rounds = [*guests_of((0.0, 0.0)), *guests_of((0.0, 0.0), start=200)]
    found = _choose(SHARED, [*hits_of(LOW), *rounds])
    assert found is not None
    assert (TestKind.THEIR_DEVICE, Because.GUESTS_WERE_HERE) == (found.kind, found.because)


def test_where_the_newest_looks_sound_the_question_is_what_changed() -> None:
    """The older revision in turn or the other handling in turn, where there is one."""
    found = _choose(SOUND)
    assert found is not None
    assert TestKind.EXCHANGE == found.kind
    later = [replace(r, revision="r2", order=r.order + 100) for r in hits_of(LOW)]
    found = _choose(SOUND, [*hits_of(LOW), *later])
    assert found is not None
    assert (TestKind.OLDER_REVISION, Because.WHAT_CHANGED) == (found.kind, found.because)
    other = [replace(r, handling="half" if r.order % 2 else "full") for r in hits_of(LOW)]
    found = _choose(SOUND, other)
    assert found is not None
    assert (TestKind.HANDLING, Because.HANDLING_CHANGED) == (found.kind, found.because)


def test_misfires_alone_propose_nothing() -> None:
    """Nothing flew, so nothing can be compared."""
    records = [
        replace(r, x_mm=None, y_mm=None, place=None, misfire="slipped") for r in hits_of(LOW)
    ]
    assert _choose({Cause.MECHANISM: 0.8}, records, surest=0.8) is None
