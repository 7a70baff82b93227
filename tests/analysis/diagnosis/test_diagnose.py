"""What poor results point to, on groups whose cause is plain.

The three readings (device, use, a mix) and that a description comes before a remedy are common
practice, no source. Groups are drawn by `tests.simulation`, or written down here.
"""

from dataclasses import replace
from math import isfinite

import pytest

from journal.analysis.diagnosis.causes import Cause
from journal.analysis.diagnosis.diagnose import (
    Grouped,
    Needs,
    diagnose,
    group,
    join,
)
from journal.analysis.diagnosis.frame import frame_of_side
from journal.analysis.diagnosis.next_tests import TestKind
from journal.analysis.diagnosis.reasons import ReasonKey
from journal.analysis.diagnosis.trials import Evidence
from journal.domain.outcomes import LESS_IS_BETTER
from journal.domain.trials import Place
from tests.analysis.diagnosis.drawn_hits import KEYS, LOW, MIDDLE, guests_of, hits_of, keys_of


def test_a_group_in_the_middle_has_nothing_wrong() -> None:
    """Hits of all gather about the aim point: nothing, and no reason is made up."""
    found = diagnose(hits_of(MIDDLE))
    assert Grouped.NONE == found.grouped
    assert set() == keys_of(found) & KEYS


def test_what_all_share_needs_a_contrast() -> None:
    """All miss the same way: device or a use that all share, with who, where and how far."""
    found = diagnose(hits_of(LOW))
    assert Grouped.CANNOT_TELL == found.grouped
    assert Needs.CONTRAST == found.needs
    assert found.next_test is not None
    assert TestKind.GUESTS == found.next_test.kind
    shared = found.probabilities[Cause.DEVICE_OFFSET] or 0
    shared += found.probabilities[Cause.USE_ALL_STEADY] or 0
    assert shared > 0.9
    reason = next(one for one in found.reasons if one.key is ReasonKey.SAME_SIDE)
    assert ("Ash", "Dot", "Mika") == reason.students
    assert ("low",) == reason.sides
    assert pytest.approx(190, abs=20) == reason.figures["offset_mm"]


def test_one_who_gathers_elsewhere_is_use() -> None:
    """Two gather in the middle and one does not: use; the own dart is named as not exchanged."""
    found = diagnose(hits_of(MIDDLE | {"Mika": (170.0, 40.0)}))
    assert Grouped.USE == found.grouped
    assert {ReasonKey.STUDENT_OFF, ReasonKey.OWN_PART_NEVER_EXCHANGED} <= keys_of(found)
    reason = next(one for one in found.reasons if one.key is ReasonKey.STUDENT_OFF)
    assert (("Mika",), ("Ash", "Dot"), ("right",)) == (reason.students, reason.others, reason.sides)


def test_one_who_scatters_is_use() -> None:
    """One scatters several times as far as the others."""
    found = diagnose(hits_of(MIDDLE, times={"Dot": 4.5}))
    assert Grouped.USE == found.grouped
    wide = next(reason for reason in found.reasons if reason.key is ReasonKey.STUDENT_WIDE)
    assert ("Dot",) == wide.students


def test_a_device_that_scatters_scatters_for_all() -> None:
    """Everybody's hits lie twice as far apart as usual."""
    found = diagnose(hits_of(MIDDLE, times=dict.fromkeys(MIDDLE, 2.6)))
    assert (found.probabilities[Cause.DEVICE_SCATTER] or 0) > 0.7
    assert ReasonKey.SCATTER_OF_ALL in keys_of(found)


@pytest.mark.parametrize("grain", [1, 10])
def test_a_loaded_tip_falls_short(grain: int) -> None:
    """Hits sink with the amount: load, with the drop a unit, be it drops or grains.

    Common practice, no source: a loaded tip falls short.
    """
    loaded = [
        replace(one, y_mm=one.y_mm - 30 * max(0, one.amount - 2), amount=grain * one.amount)
        if one.y_mm is not None and one.amount is not None
        else one
        for one in hits_of(MIDDLE)
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
        for one in hits_of(MIDDLE)
    ]
    assert ReasonKey.LOWER_WITH_AMOUNT not in keys_of(diagnose(lifted))


def test_without_amounts_nothing_is_said_of_a_load() -> None:
    """The cause is left open, not ruled out."""
    found = diagnose([replace(one, amount=None) for one in hits_of(LOW)])
    assert found.probabilities[Cause.LOAD] is None
    assert pytest.approx(1.0) == sum(found.joint.values())


def test_misfires_alone_speak_for_the_mechanism() -> None:
    """Positions as usual, four of ten misfire; and the same where nothing but misfires is told."""
    records = hits_of(MIDDLE)
    half = [
        replace(one, x_mm=None, y_mm=None, place=None, misfire="slipped") if at % 5 < 2 else one
        for at, one in enumerate(records)
    ]
    found = diagnose(half)
    assert (found.probabilities[Cause.MECHANISM] or 0) > 0.95
    assert ReasonKey.MISFIRES in keys_of(found)
    bare = [replace(one, x_mm=None, y_mm=None, place=None) for one in half]
    assert Evidence.MISFIRES == diagnose(bare).evidence
    assert (diagnose(bare).probabilities[Cause.MECHANISM] or 0) > 0.95


def test_a_group_with_all_misfires_gets_an_answer() -> None:
    """Nothing ever flew: the mechanism, and that nothing else can be seen."""
    records = [
        replace(one, x_mm=None, y_mm=None, place=None, misfire="slipped") for one in hits_of(MIDDLE)
    ]
    found = diagnose(records)
    assert (found.probabilities[Cause.MECHANISM] or 0) > 0.95
    assert ReasonKey.ALL_MISFIRED in keys_of(found)


def test_under_four_trials_nothing_is_found() -> None:
    """Three trials: no probability, cannot tell, and how many there are."""
    found = diagnose(hits_of(LOW)[:3])
    assert Grouped.CANNOT_TELL == found.grouped
    assert {None} == set(found.probabilities.values())
    assert ReasonKey.TOO_FEW_TRIALS in keys_of(found)
    assert {} == diagnose([]).joint


def test_one_student_cannot_tell_device_from_use() -> None:
    """All trials by one student, off to one side: never said to be the device."""
    found = diagnose(hits_of({"Ash": (0.0, -190.0)}))
    assert found.grouped in {Grouped.CANNOT_TELL, Grouped.USE, Grouped.BOTH}
    assert ReasonKey.ONE_STUDENT in keys_of(found)


@pytest.mark.parametrize("far", [(290.0, 280.0), (1500.0, 900.0)])
def test_one_that_flew_far_does_not_sway_it(far: tuple[float, float]) -> None:
    """The last of 24 flies several times as far; the diagnosis stays.

    Common practice, no source: one attempt out of many can fly several times as far.
    """
    for records, expected in (
        (hits_of(MIDDLE), Grouped.NONE),
        ([*hits_of(LOW), *guests_of((0.0, -190.0))], Grouped.DEVICE),
        ([*hits_of(LOW), *guests_of((0.0, 0.0))], Grouped.USE),
    ):
        for at in (23, len(records) - 1):
            swayed = list(records)
            swayed[at] = replace(records[at], x_mm=far[0], y_mm=far[1], place=None)
            assert expected == diagnose(swayed).grouped


def test_contradicting_and_endless_marks_are_survived() -> None:
    """A hit marked on the wall counts as beyond; what is no number is passed over."""
    records = hits_of(LOW)
    records[0] = replace(records[0], place=Place.WALL)
    records[1] = replace(records[1], x_mm=float("nan"), y_mm=float("inf"), amount=float("nan"))
    found = diagnose(records)
    assert Needs.CONTRAST == found.needs
    assert all(isfinite(chance) for chance in found.joint.values())


def test_the_panel_gives_the_scale() -> None:
    """The same picture at half the size, on a panel of half the size, is the same diagnosis."""
    records = hits_of(LOW)
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
    for one in hits_of(LOW):
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
        assert ReasonKey.NO_POSITIONS in keys_of(found)
        # Points leave open how much of a miss is offset and how much is scatter.
        assert (found.students["Ash"].offset_mm or 0) > 90


def test_changed_handling_is_named_as_such() -> None:
    """Handling and revision changed together: a reason of its own."""
    records = [
        replace(one, revision="r2" if at >= 12 else "r1", handling="half" if at >= 12 else "full")
        for at, one in enumerate(hits_of(LOW))
    ]
    reasons = diagnose(records).reasons
    assert ("r1", "r2") in [
        reason.revisions for reason in reasons if reason.key.value == "handling_changed"
    ]


def test_the_device_is_said_only_with_care() -> None:
    """Likely is not enough: use and nothing at all must be improbable."""
    sure = {Grouped.NONE: 0.02, Grouped.DEVICE: 0.90, Grouped.USE: 0.01, Grouped.BOTH: 0.07}
    assert Grouped.DEVICE == group(sure)
    assert Grouped.DEVICE == group(sure)
    half = {Grouped.NONE: 0.02, Grouped.DEVICE: 0.55, Grouped.USE: 0.40, Grouped.BOTH: 0.03}
    assert Grouped.CANNOT_TELL == group(half)
    assert Grouped.CANNOT_TELL == group(half)
    nothing = {Grouped.NONE: 0.40, Grouped.DEVICE: 0.58, Grouped.USE: 0.01, Grouped.BOTH: 0.01}
    assert Grouped.CANNOT_TELL == group(nothing)
    use = {Grouped.NONE: 0.10, Grouped.DEVICE: 0.15, Grouped.USE: 0.70, Grouped.BOTH: 0.05}
    assert Grouped.USE == group(use)


def test_sets_of_causes_are_joined() -> None:
    """Any device's cause is the device, with use as well both; an own part is a device's."""
    sets = {
        frozenset[Cause](): 0.1,
        frozenset({Cause.LOAD}): 0.2,
        frozenset({Cause.USE_SOME}): 0.2,
        frozenset({Cause.USE_ALL_FADING}): 0.1,
        frozenset({Cause.USE_ALL_STEADY, Cause.MECHANISM}): 0.15,
        frozenset({Cause.OWN_PART}): 0.25,
    }
    expected = {
        Grouped.NONE: 0.1, Grouped.DEVICE: 0.45, Grouped.USE: 0.3, Grouped.BOTH: 0.15
    }  # fmt: skip
    assert pytest.approx(expected) == join(sets)
