"""From which figure on something is told as a reason, at both sides of each limit.

The limits are our own choice, no source: they are pinned here so that no change goes unseen.
"""

from __future__ import annotations

import pytest

from journal.analysis.diagnosis.causes import Cause
from journal.analysis.diagnosis.frame import frame_of_side
from journal.analysis.diagnosis.reasons import Reason, ReasonKey, find_reasons
from journal.analysis.diagnosis.students import StudentSpread
from journal.analysis.diagnosis.trials import Evidence, TrialSet, Zones
from journal.analysis.records import TrialRecord

#: Half of the panel is 300 mm.
FRAME = frame_of_side(600)
RECORDS = [
    TrialRecord(order=order, revision="r1", student=name, own_part="")
    for order, name in enumerate(("Ash", "Dot", "Mika", "Ash"), start=1)
]


def _told(count: int = 4, misfires: int = 0, evidence: Evidence = Evidence.POSITIONS) -> TrialSet:
    return TrialSet(
        evidence=evidence,
        trials=(),
        count=count,
        misfires=misfires,
        has_load=False,
        zones=Zones(squares=()),
        load_scale=1.0,
    )


def _reasons(
    students: dict[str, StudentSpread],
    cause: Cause,
    probability: float = 0.9,
    told: TrialSet | None = None,
) -> dict[ReasonKey, Reason]:
    found = find_reasons(RECORDS, told or _told(), students, {cause: probability}, FRAME)
    return {reason.key: reason for reason in found}


def _scatters(*scatters_mm: float) -> dict[str, StudentSpread]:
    names = ("Ash", "Dot", "Mika")
    return {
        name: StudentSpread(trials=4, scatter_mm=scatter_mm)
        for name, scatter_mm in zip(names, scatters_mm, strict=True)
    }


def _places(*places_mm: tuple[float, float]) -> dict[str, StudentSpread]:
    names = ("Ash", "Dot", "Mika")
    return {
        name: StudentSpread(trials=4, offset_mm=(x * x + y * y) ** 0.5, x_mm=x, y_mm=y)
        for name, (x, y) in zip(names, places_mm, strict=False)
    }


@pytest.mark.parametrize(("scatter_mm", "is_told"), [(169.0, False), (171.0, True)])
def test_a_student_scatters_widely_from_1_7_times_the_others_on(
    *, scatter_mm: float, is_told: bool
) -> None:
    """The middle one of the others is 100 mm; the student's own counts on neither side."""
    found = _reasons(_scatters(90.0, 110.0, scatter_mm), Cause.USE_SOME)
    assert is_told == (ReasonKey.STUDENT_WIDE in found)
    if is_told:
        wide = found[ReasonKey.STUDENT_WIDE]
        assert ("Mika",) == wide.students
        assert {"scatter_mm": scatter_mm, "others_mm": 100.0} == wide.figures


@pytest.mark.parametrize(("x_mm", "is_told"), [(104.0, False), (106.0, True)])
def test_a_student_is_off_from_35_in_100_of_half_the_panel_on(
    *, x_mm: float, is_told: bool
) -> None:
    """105 of 300 mm; who is off stands apart from who is not."""
    found = _reasons(_places((x_mm, 0.0), (0.0, 10.0)), Cause.USE_SOME)
    assert is_told == (ReasonKey.STUDENT_OFF in found)
    if is_told:
        off = found[ReasonKey.STUDENT_OFF]
        assert (("Ash",), ("Dot",), ("right",)) == (off.students, off.others, off.sides)


def test_where_all_are_off_nobody_is_apart() -> None:
    """Then it is one side for all of them, told of the device only."""
    everybody = _places((200.0, 0.0), (210.0, 0.0), (220.0, 0.0))
    assert ReasonKey.STUDENT_OFF not in _reasons(everybody, Cause.USE_SOME)
    same = _reasons(everybody, Cause.DEVICE_OFFSET)[ReasonKey.SAME_SIDE]
    assert (("Ash", "Dot", "Mika"), (), ("right",)) == (same.students, same.others, same.sides)
    assert {"offset_mm": 210.0} == same.figures


@pytest.mark.parametrize(("probability", "is_told"), [(0.29, False), (0.3, True)])
def test_a_cause_is_described_from_30_in_100_on(*, probability: float, is_told: bool) -> None:
    """Below, nothing is said for it."""
    found = _reasons(_scatters(90.0, 110.0, 100.0), Cause.DEVICE_SCATTER, probability)
    assert is_told == (ReasonKey.SCATTER_OF_ALL in found)


@pytest.mark.parametrize(("count", "is_told"), [(3, True), (4, False)])
def test_fewer_than_four_trials_are_too_few(*, count: int, is_told: bool) -> None:
    """And then nothing else is said to limit the diagnosis."""
    told = _told(count=count, evidence=Evidence.POINTS)
    found = _reasons({}, Cause.USE_SOME, told=told)
    assert is_told == (ReasonKey.TOO_FEW_TRIALS in found)
    assert is_told == (ReasonKey.NO_POSITIONS not in found)


@pytest.mark.parametrize(
    ("misfires", "evidence", "expected"),
    [
        (4, Evidence.MISFIRES, ReasonKey.ALL_MISFIRED),
        (2, Evidence.MISFIRES, ReasonKey.ONLY_MISFIRES_SPEAK),
        (0, Evidence.MEASURES, ReasonKey.NO_POSITIONS),
    ],
)
def test_one_limit_of_the_way_of_telling(
    misfires: int, evidence: Evidence, expected: ReasonKey
) -> None:
    """Each of the three excludes the others."""
    kinds = {ReasonKey.ALL_MISFIRED, ReasonKey.ONLY_MISFIRES_SPEAK, ReasonKey.NO_POSITIONS}
    found = _reasons({}, Cause.USE_SOME, told=_told(misfires=misfires, evidence=evidence))
    assert {expected} == kinds & set(found)


@pytest.mark.parametrize(
    ("place_mm", "sides"),
    [
        ((0.0, 200.0), ("high",)),
        ((0.0, -200.0), ("low",)),
        ((200.0, 0.0), ("right",)),
        ((-200.0, 0.0), ("left",)),
        ((150.0, 150.0), ("high", "right")),
        ((-150.0, -150.0), ("low", "left")),
        # Eight directions are 45 degrees broad: a side counts from 22.5 degrees on.
        ((75.0, 200.0), ("high",)),
        ((90.0, 200.0), ("high", "right")),
    ],
)
def test_a_side_has_the_name_it_has_on_the_panel(
    place_mm: tuple[float, float], sides: tuple[str, ...]
) -> None:
    """As seen from the aim point."""
    found = _reasons(_places(place_mm, (0.0, 0.0)), Cause.USE_SOME)
    assert sides == found[ReasonKey.STUDENT_OFF].sides
