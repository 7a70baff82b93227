"""When the next question is offered."""

from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from journal.analysis.records import TrialRecord
from journal.analysis.stall import StallContext, StallReason, find_stall
from journal.domain.classes import GradeBand
from journal.domain.outcomes import LESS_IS_BETTER, MORE_IS_BETTER
from tests.analysis.trial_records import trials

MIDDLE = StallContext(band=GradeBand.THREE_TO_FIVE, direction=MORE_IS_BETTER)
UPPER = replace(MIDDLE, band=GradeBand.SIX_TO_EIGHT)
YOUNG = replace(MIDDLE, band=GradeBand.TWO)
FLAT = [4.0, 6.0, 3.0, 5.0, 4.0, 5.0, 4.0, 5.0, 3.0, 4.0, 5.0, 4.0, 5.0, 3.0]


def test_no_new_best_and_no_gain_is_a_stall() -> None:
    """Fourteen trials, best long ago, and the level is flat; the call says what it saw."""
    stall = find_stall(trials("A", FLAT), MIDDLE)
    assert StallReason.NO_NEW_BEST == stall.reason
    assert stall.stalled
    assert (14, 12) == (stall.looked_at, stall.since_best)
    assert stall.slope is not None
    assert stall.bound is not None
    assert stall.slope <= stall.bound
    # None of the last twelve of fourteen: (n - k) / n.
    assert pytest.approx(1 / 7) == stall.by_chance


def test_a_new_best_is_no_stall() -> None:
    """One trial beyond all earlier ones takes a call back."""
    stall = find_stall(trials("A", [*FLAT, 7.0]), MIDDLE)
    assert StallReason.MOVING == stall.reason


def test_a_rising_level_is_no_stall_though_the_best_stands() -> None:
    """The level climbs beyond the first lucky one: they are moving."""
    values = [9.0, *[1.0] * 6, *[5.0] * 7]
    assert StallReason.MOVING == find_stall(trials("A", values), MIDDLE).reason


def test_direction_decides_what_a_best_is() -> None:
    """Falling measures are progress where less is better."""
    falling = [float(value) for value in range(14, 0, -1)]
    assert find_stall(trials("A", falling), MIDDLE).stalled
    less = replace(MIDDLE, direction=LESS_IS_BETTER)
    assert StallReason.MOVING == find_stall(trials("A", falling), less).reason


def test_both_bands_are_watched_alike_and_asked_at_different_paces() -> None:
    """Fourteen trials are looked at in either band; older groups are left alone for longer."""
    assert StallReason.TOO_EARLY == find_stall(trials("A", FLAT[:13]), UPPER).reason
    assert find_stall(trials("A", FLAT), UPPER).stalled
    called = replace(UPPER, called_at=11)
    assert StallReason.CALLED_LATELY == find_stall(trials("A", FLAT), called).reason
    assert find_stall(trials("A", FLAT), replace(MIDDLE, called_at=11)).stalled


def test_a_call_stands_until_the_next_look() -> None:
    """Between two looks nothing changes the call but a new best."""
    rising = [4.0, 5.0, 5.0, 5.0, 6.0, 5.0, 6.0, 6.0, 5.0, 6.0, 6.0]
    assert find_stall(trials("A", [*FLAT, *rising]), MIDDLE).stalled
    assert StallReason.MOVING == find_stall(trials("A", [*FLAT, *rising, 6.0]), MIDDLE).reason


def _in_turn(levels: list[float], rounds: int, rise: float) -> list[TrialRecord]:
    """Return children of unlike level in turn, each better by `rise` from round to round."""
    return [
        record
        for turn in range(rounds * len(levels))
        for record in trials(
            "A",
            [levels[turn % len(levels)] + rise * (turn // len(levels)) + (turn * 7 % 5) / 10],
            student=str(turn % len(levels)),
            start=turn,
        )
    ]


def test_each_child_is_set_beside_itself() -> None:
    """The best child is absent in the second half: the mean falls, and yet each one gets better."""
    records = _in_turn([9.0, 1.0, 2.0], 8, rise=0.3)
    without = [record for record in records if record.order < 8 or record.student != "0"]
    assert len(without) >= 14
    assert StallReason.MOVING == find_stall(without, MIDDLE).reason
    nobody = find_stall([replace(record, student="") for record in without], MIDDLE)
    assert nobody.slope is not None
    assert nobody.slope < 0


def test_a_new_distance_is_no_fall() -> None:
    """Farther away every result is lower; within each distance they rise."""
    near, far = [11.0, 12.1, 12.9, 14.2, 15.0, 16.1, 17.0], [0.0, 1.2, 2.0, 2.9, 4.1, 5.0, 5.9]
    records = [
        *trials("A", near, distance_mm=2000),
        *trials("A", far, start=8, distance_mm=4000),
    ]
    assert StallReason.MOVING == find_stall(records, MIDDLE).reason
    together = find_stall([replace(record, distance_mm=None) for record in records], MIDDLE)
    assert together.slope is not None
    assert together.slope < 0


def test_positions_show_steps_that_points_hide() -> None:
    """Most hits are worth 2, but they come nearer to the aim point from trial to trial."""
    records = [
        replace(record, x_mm=190.0 - 5 * record.order, y_mm=0.0)
        for record in trials("A", [2.0] * 9 + [4.0] * 5)
    ]
    found, points = find_stall(records, MIDDLE), find_stall(trials("A", [2.0] * 14), MIDDLE)
    assert StallReason.MOVING == found.reason
    assert points.stalled
    # A straight way to the aim point: no scatter is left about its line.
    assert 1.0 == found.slope


def test_near_the_floor_the_watch_waits_longer() -> None:
    """Twelve misses of fourteen say little of a slope: the first look is at 22 trials."""
    misses = [0.0, 0, 0, 2, 0, 0, 0, 0, 2, 0, 0, 0, 0, 0]
    assert StallReason.TOO_EARLY == find_stall(trials("A", misses), MIDDLE).reason
    assert find_stall(trials("A", [*misses, *[0.0] * 8]), MIDDLE).stalled


def test_mostly_at_the_top_is_no_stall() -> None:
    """Four of the last six were the best there can be."""
    values = [*FLAT[:-6], 8.0, 8.0, 4.0, 8.0, 4.0, 8.0]
    found = find_stall(trials("A", values), replace(MIDDLE, top_value=8.0))
    assert StallReason.AT_THE_TOP == found.reason


@settings(max_examples=50, deadline=None)
@given(st.lists(st.sampled_from([0.0, 1, 2, 4, 8]), min_size=14, max_size=30), st.randoms())
def test_relabelling_children_changes_nothing(values: list[float], mix: Random) -> None:
    """Which child has which name, and how the group is called, decides nothing."""
    records = [replace(record, student="abcd"[mix.randrange(4)]) for record in trials("A", values)]
    renamed = [
        replace(record, student={"a": "z", "b": "y", "c": "a", "d": "b"}[record.student])
        for record in records
    ]
    assert find_stall(records, MIDDLE) == find_stall(renamed, MIDDLE)


@pytest.mark.parametrize(
    ("context", "reason"),
    [
        (replace(MIDDLE, criterion_met=True), StallReason.CRITERION_MET),
        (replace(MIDDLE, called_at=12), StallReason.CALLED_LATELY),
        (replace(MIDDLE, called_at=11), StallReason.NO_NEW_BEST),
        (replace(MIDDLE, same_answer_twice=True), StallReason.SAME_ANSWER),
    ],
)
def test_what_else_is_known_comes_first(context: StallContext, reason: StallReason) -> None:
    """Met criteria and a late call keep quiet; calls are half a window apart."""
    assert reason == find_stall(trials("A", FLAT), context).reason


def test_the_top_is_no_stall() -> None:
    """Who sits at the best there is needs no question."""
    top = [4.0] * 6 + [8.0] * 7
    reason = find_stall(trials("A", top), replace(MIDDLE, top_value=8.0)).reason
    assert StallReason.AT_THE_TOP == reason


def test_more_than_half_misfires_is_a_stall_of_its_own() -> None:
    """Four of the last six misfired: reliability is under a half."""
    stall = find_stall(trials("A", [5.0, 6.0, None, None, 7.0, None, None, 8.0]), MIDDLE)
    assert StallReason.UNRELIABLE == stall.reason
    assert 4 == stall.misfires


def _revisions(bests: list[float]) -> list[TrialRecord]:
    return [
        record
        for place, best in enumerate(bests)
        for record in trials(f"r{place}", [best], start=place)
    ]


@pytest.mark.parametrize("context", [YOUNG, replace(UPPER, destructive=True)])
def test_young_groups_and_destructive_tests_count_revisions(context: StallContext) -> None:
    """Three revisions without a new best; with two it is too early or still moving."""
    reason = StallReason.NO_NEW_BEST_IN_REVISIONS
    assert reason == find_stall(_revisions([5.0, 9.0, 3.0, 4.0, 8.0]), context).reason
    assert StallReason.MOVING == find_stall(_revisions([5.0, 3.0, 9.0, 4.0, 8.0]), context).reason
    assert StallReason.TOO_EARLY == find_stall(_revisions([9.0, 3.0, 4.0]), context).reason


def test_a_group_without_trials_is_early() -> None:
    """Nothing logged, nothing called."""
    assert StallReason.TOO_EARLY == find_stall([], MIDDLE).reason
    assert StallReason.TOO_EARLY == find_stall([], YOUNG).reason
