"""What poor results point to, on groups whose cause is plain.

The three readings (device, use, a mix) and that a description comes before a remedy are common
practice, no source. Groups are drawn by `tests.simulation`, or written down here.
"""

from dataclasses import replace
from math import isfinite

import pytest

from journal.analysis.diagnosis.causes import Cause
from journal.analysis.diagnosis.diagnose import (
    Diagnosis,
    Grouped,
    diagnose,
    group,
    join,
    least_to_speak,
)
from journal.analysis.diagnosis.frame import frame_of_side
from journal.analysis.diagnosis.reasons import ReasonKey
from journal.analysis.diagnosis.trials import Evidence
from journal.analysis.records import TrialRecord
from journal.domain.outcomes import LESS_IS_BETTER
from journal.domain.trials import Place

#: Eight hits in mm about a middle, as regular as a circle.
ROUND = ((80, 0), (57, 57), (0, 80), (-57, 57), (-80, 0), (-57, -57), (0, -80), (57, -57))
SIZES = (0.5, 1.2, 0.8, 1.4)


def _hits(
    middles: dict[str, tuple[float, float]], *, times: dict[str, float] | None = None, n: int = 8
) -> list[TrialRecord]:
    """Return n trials of each student about a middle, scatter multiplied where asked for."""
    records = []
    for at in range(n):
        for place, (name, (x_mm, y_mm)) in enumerate(middles.items()):
            dx, dy = ROUND[(3 * at + place) % len(ROUND)]
            size = SIZES[(at + place) % len(SIZES)] * (times or {}).get(name, 1.0)
            x_mm_at, y_mm_at = x_mm + size * dx, y_mm + size * dy
            on_panel = max(abs(x_mm_at), abs(y_mm_at)) <= 300
            records.append(
                TrialRecord(
                    order=len(records) + 1,
                    revision="r1",
                    student=name,
                    own_part=f"dart of {name}",
                    x_mm=x_mm_at if on_panel else None,
                    y_mm=y_mm_at if on_panel else None,
                    place=Place.PANEL if on_panel else Place.WALL,
                    amount=float(1 + (5 * at + place) % 8),
                )
            )
    return records


MIDDLE = {"Ash": (0.0, 10.0), "Dot": (-10.0, 0.0), "Mika": (10.0, -5.0)}
LOW = {name: (x_mm, y_mm - 190.0) for name, (x_mm, y_mm) in MIDDLE.items()}
KEYS = {ReasonKey.SAME_SIDE, ReasonKey.STUDENT_OFF, ReasonKey.STUDENT_WIDE}


def _keys(found: Diagnosis) -> set[ReasonKey]:
    return {reason.key for reason in found.reasons}


def test_a_group_in_the_middle_has_nothing_wrong() -> None:
    """Hits of all gather about the aim point: nothing, and no reason is made up."""
    found = diagnose(_hits(MIDDLE))
    assert Grouped.NONE == found.grouped
    assert set() == _keys(found) & KEYS


def test_a_weak_device_sends_everything_low() -> None:
    """All miss the same way: the device, with who, where and how far.

    Common practice, no source: a weak launcher sends everything short.
    """
    found = diagnose(_hits(LOW))
    assert Grouped.DEVICE == found.grouped
    assert (found.probabilities[Cause.DEVICE_OFFSET] or 0) > 0.9
    reason = next(one for one in found.reasons if one.key is ReasonKey.SAME_SIDE)
    assert ("Ash", "Dot", "Mika") == reason.students
    assert ("low",) == reason.sides
    assert pytest.approx(190, abs=20) == reason.figures["offset_mm"]


def test_one_who_gathers_elsewhere_is_use() -> None:
    """Two gather in the middle and one does not: use; the own dart is named as not exchanged."""
    found = diagnose(_hits(MIDDLE | {"Mika": (170.0, 40.0)}))
    assert Grouped.USE == found.grouped
    assert {ReasonKey.STUDENT_OFF, ReasonKey.OWN_PART_NEVER_EXCHANGED} <= _keys(found)
    reason = next(one for one in found.reasons if one.key is ReasonKey.STUDENT_OFF)
    assert (("Mika",), ("Ash", "Dot"), ("right",)) == (reason.students, reason.others, reason.sides)


def test_one_who_scatters_is_use() -> None:
    """One scatters several times as far as the others."""
    found = diagnose(_hits(MIDDLE, times={"Dot": 4.5}))
    assert Grouped.USE == found.grouped
    wide = next(reason for reason in found.reasons if reason.key is ReasonKey.STUDENT_WIDE)
    assert ("Dot",) == wide.students


def test_a_device_that_scatters_scatters_for_all() -> None:
    """Everybody's hits lie twice as far apart as usual."""
    found = diagnose(_hits(MIDDLE, times=dict.fromkeys(MIDDLE, 2.3)))
    assert (found.probabilities[Cause.DEVICE_SCATTER] or 0) > 0.9
    assert ReasonKey.SCATTER_OF_ALL in _keys(found)


@pytest.mark.parametrize("grain", [1, 10])
def test_a_loaded_tip_falls_short(grain: int) -> None:
    """Hits sink with the amount: load, with the drop a unit, be it drops or grains.

    Common practice, no source: a loaded tip falls short.
    """
    loaded = [
        replace(one, y_mm=one.y_mm - 30 * max(0, one.amount - 2), amount=grain * one.amount)
        if one.y_mm is not None and one.amount is not None
        else one
        for one in _hits(MIDDLE)
    ]
    found = diagnose(loaded)
    assert (found.probabilities[Cause.LOAD] or 0) > 0.9
    reason = next(one for one in found.reasons if one.key is ReasonKey.LOWER_WITH_AMOUNT)
    assert pytest.approx(30 / grain, abs=12 / grain) == reason.figures["drop_mm"]


def test_hits_that_rise_with_the_amount_are_no_load() -> None:
    """The reason tells of a drop, never of a rise as one below zero."""
    lifted = [
        replace(one, y_mm=one.y_mm + 15 * one.amount)
        if one.y_mm is not None and one.amount is not None
        else one
        for one in _hits(MIDDLE)
    ]
    assert ReasonKey.LOWER_WITH_AMOUNT not in _keys(diagnose(lifted))


def test_without_amounts_nothing_is_said_of_a_load() -> None:
    """The cause is left open, not ruled out."""
    found = diagnose([replace(one, amount=None) for one in _hits(LOW)])
    assert found.probabilities[Cause.LOAD] is None
    assert pytest.approx(1.0) == sum(found.joint.values())


def test_misfires_alone_speak_for_the_mechanism() -> None:
    """Positions as usual, four of ten misfire; and the same where nothing but misfires is told."""
    records = _hits(MIDDLE)
    half = [
        replace(one, x_mm=None, y_mm=None, place=None, misfire="slipped") if at % 5 < 2 else one
        for at, one in enumerate(records)
    ]
    found = diagnose(half)
    assert (found.probabilities[Cause.MECHANISM] or 0) > 0.95
    assert ReasonKey.MISFIRES in _keys(found)
    bare = [replace(one, x_mm=None, y_mm=None, place=None) for one in half]
    assert Evidence.MISFIRES == diagnose(bare).evidence
    assert (diagnose(bare).probabilities[Cause.MECHANISM] or 0) > 0.95


def test_a_group_with_all_misfires_gets_an_answer() -> None:
    """Nothing ever flew: the mechanism, and that nothing else can be seen."""
    records = [
        replace(one, x_mm=None, y_mm=None, place=None, misfire="slipped") for one in _hits(MIDDLE)
    ]
    found = diagnose(records)
    assert (found.probabilities[Cause.MECHANISM] or 0) > 0.95
    assert ReasonKey.ALL_MISFIRED in _keys(found)


def test_under_four_trials_nothing_is_found() -> None:
    """Three trials: no probability, cannot tell, and how many there are."""
    found = diagnose(_hits(LOW)[:3])
    assert Grouped.CANNOT_TELL == found.grouped
    assert {None} == set(found.probabilities.values())
    assert ReasonKey.TOO_FEW_TRIALS in _keys(found)
    assert {} == diagnose([]).joint


def test_one_student_cannot_tell_device_from_use() -> None:
    """All trials by one student, off to one side: never said to be the device."""
    found = diagnose(_hits({"Ash": (0.0, -190.0)}))
    assert found.grouped in {Grouped.CANNOT_TELL, Grouped.USE, Grouped.BOTH}
    assert ReasonKey.ONE_STUDENT in _keys(found)


@pytest.mark.parametrize("far", [(290.0, 280.0), (1500.0, 900.0)])
def test_one_that_flew_far_does_not_sway_it(far: tuple[float, float]) -> None:
    """The last of 24 flies several times as far; the diagnosis stays.

    Common practice, no source: one attempt out of many can fly several times as far.
    """
    for middles, expected in ((MIDDLE, Grouped.NONE), (LOW, Grouped.DEVICE)):
        records = _hits(middles)
        records[-1] = replace(records[-1], x_mm=far[0], y_mm=far[1], place=None)
        assert expected == diagnose(records).grouped


def test_contradicting_and_endless_marks_are_survived() -> None:
    """A hit marked on the wall counts as beyond; what is no number is passed over."""
    records = _hits(LOW)
    records[0] = replace(records[0], place=Place.WALL)
    records[1] = replace(records[1], x_mm=float("nan"), y_mm=float("inf"), amount=float("nan"))
    found = diagnose(records)
    assert Grouped.DEVICE == found.grouped
    assert all(isfinite(chance) for chance in found.joint.values())


def test_the_panel_gives_the_scale() -> None:
    """The same picture at half the size, on a panel of half the size, is the same diagnosis."""
    records = _hits(LOW)
    halved = [
        replace(
            record,
            x_mm=None if record.x_mm is None else record.x_mm / 2,
            y_mm=None if record.y_mm is None else record.y_mm / 2,
        )
        for record in records
    ]
    whole, half = diagnose(records), diagnose(halved, frame=frame_of_side(300.0))
    assert pytest.approx(dict(whole.joint), abs=1e-9) == dict(half.joint)


def test_points_and_distances_speak_as_well() -> None:
    """Without positions the same low group is still found to miss."""
    points, distances = [], []
    for one in _hits(LOW):
        beyond = one.x_mm is None or one.y_mm is None
        far = 300.0 if beyond else max(abs(one.x_mm or 0), abs(one.y_mm or 0))
        worth = next((p for end, p in ((60, 8), (120, 4), (200, 2), (300, 1)) if far <= end), 0)
        away = 300.0 if beyond else ((one.x_mm or 0) ** 2 + (one.y_mm or 0) ** 2) ** 0.5
        bare = replace(one, x_mm=None, y_mm=None)
        points.append(replace(bare, value=0.0 if beyond else float(worth)))
        distances.append(replace(bare, value=away))
    for found, evidence in (
        (diagnose(points), Evidence.POINTS),
        (diagnose(distances, direction=LESS_IS_BETTER), Evidence.MEASURES),
    ):
        assert evidence == found.evidence
        assert (found.none or 0) < 0.05
        assert ReasonKey.NO_POSITIONS in _keys(found)
        # Points leave open how much of a miss is offset and how much is scatter.
        assert (found.students["Ash"].offset_mm or 0) > 90


def test_changed_handling_is_named_as_such() -> None:
    """Handling and revision changed together: a reason of its own."""
    records = [
        replace(one, revision="r2" if at >= 12 else "r1", handling="half" if at >= 12 else "full")
        for at, one in enumerate(_hits(LOW))
    ]
    reasons = diagnose(records).reasons
    assert ("r1", "r2") in [
        reason.revisions for reason in reasons if reason.key.value == "handling_changed"
    ]


def test_the_device_is_said_only_with_care() -> None:
    """Likely is not enough: use and nothing at all must be improbable."""
    sure = {Grouped.NONE: 0.02, Grouped.DEVICE: 0.90, Grouped.USE: 0.01, Grouped.BOTH: 0.07}
    assert Grouped.DEVICE == group(sure, 24)
    doubt = {Grouped.NONE: 0.02, Grouped.DEVICE: 0.78, Grouped.USE: 0.10, Grouped.BOTH: 0.10}
    assert Grouped.CANNOT_TELL == group(doubt, 24)
    nothing = {Grouped.NONE: 0.25, Grouped.DEVICE: 0.74, Grouped.USE: 0.005, Grouped.BOTH: 0.005}
    assert Grouped.CANNOT_TELL == group(nothing, 24)
    even = {Grouped.NONE: 0.69, Grouped.DEVICE: 0.11, Grouped.USE: 0.1, Grouped.BOTH: 0.1}
    assert Grouped.CANNOT_TELL == group(even, 6)


def test_more_trials_ask_for_less() -> None:
    """From 70 in 100 at 6 trials to 60 at 24; the device from 11 times the use to 8 times."""
    assert [0.7, 0.7, 0.65, 0.6, 0.6] == [
        pytest.approx(least_to_speak(trials)) for trials in (4, 6, 15, 24, 60)
    ]
    likely = {Grouped.NONE: 0.65, Grouped.DEVICE: 0.15, Grouped.USE: 0.1, Grouped.BOTH: 0.1}
    assert [Grouped.CANNOT_TELL, Grouped.NONE] == [group(likely, trials) for trials in (14, 15)]
    blamed = {Grouped.NONE: 0.02, Grouped.DEVICE: 0.80, Grouped.USE: 0.09, Grouped.BOTH: 0.09}
    assert [Grouped.CANNOT_TELL, Grouped.DEVICE] == [group(blamed, trials) for trials in (12, 24)]


def test_sets_of_causes_are_joined() -> None:
    """Any device's cause is the device, with use as well both; an own part is a device's."""
    sets = {
        frozenset[Cause](): 0.1,
        frozenset({Cause.LOAD}): 0.2,
        frozenset({Cause.USE}): 0.3,
        frozenset({Cause.USE, Cause.MECHANISM}): 0.15,
        frozenset({Cause.OWN_PART}): 0.25,
    }
    expected = {
        Grouped.NONE: 0.1, Grouped.DEVICE: 0.45, Grouped.USE: 0.3, Grouped.BOTH: 0.15
    }  # fmt: skip
    assert pytest.approx(expected) == join(sets)
