"""When the next question is offered."""

from dataclasses import replace

import pytest

from journal.analysis.records import TrialRecord
from journal.analysis.stall import StallContext, StallReason, find_stall
from journal.domain.classes import GradeBand
from journal.domain.outcomes import LESS_IS_BETTER, MORE_IS_BETTER
from tests.analysis.trial_records import trials

MIDDLE = StallContext(band=GradeBand.THREE_TO_FIVE, direction=MORE_IS_BETTER)
UPPER = replace(MIDDLE, band=GradeBand.SIX_TO_EIGHT)
YOUNG = replace(MIDDLE, band=GradeBand.TWO)
FLAT = [4.0, 6.0, 3.0, 5.0, 4.0, 5.0, 4.0, 5.0, 3.0, 4.0, 5.0, 4.0]
#: Best of the first six is 6, of the last six 5.


def test_no_new_best_and_no_gain_is_a_stall() -> None:
    """Twelve trials, best long ago, and the level is flat."""
    stall = find_stall(trials("A", FLAT), MIDDLE)
    assert StallReason.NO_NEW_BEST == stall.reason
    assert stall.stalled
    assert 10 == stall.since_best
    # None of the last ten of twelve: (n - k) / n.
    assert pytest.approx(1 / 6) == stall.by_chance


def test_a_new_best_is_no_stall() -> None:
    """One trial beyond all earlier ones keeps a group going."""
    stall = find_stall(trials("A", [*FLAT[:-1], 7.0]), MIDDLE)
    assert StallReason.MOVING == stall.reason


def test_a_rising_level_is_no_stall_though_the_best_stands() -> None:
    """The level climbs beyond the first lucky one: they are moving."""
    values = [9.0, 1.0, 1.0, 1.0, 1.0, 1.0, 5.0, 5.0, 5.0, 5.0, 5.0, 5.0]
    assert StallReason.MOVING == find_stall(trials("A", values), MIDDLE).reason


def test_direction_decides_what_a_best_is() -> None:
    """Falling measures are progress where less is better."""
    falling = [float(value) for value in range(12, 0, -1)]
    assert find_stall(trials("A", falling), MIDDLE).stalled
    less = replace(MIDDLE, direction=LESS_IS_BETTER)
    assert StallReason.MOVING == find_stall(trials("A", falling), less).reason


def test_both_bands_are_watched_alike_and_asked_at_different_paces() -> None:
    """Ten trials are looked at in either band; older groups are left alone for longer."""
    assert StallReason.TOO_EARLY == find_stall(trials("A", FLAT[:9]), UPPER).reason
    assert find_stall(trials("A", FLAT), UPPER).stalled
    called = replace(UPPER, called_at=9)
    assert StallReason.CALLED_LATELY == find_stall(trials("A", FLAT), called).reason
    assert find_stall(trials("A", FLAT), replace(MIDDLE, called_at=9)).stalled


def test_a_fresh_best_keeps_a_group_going() -> None:
    """A best within the last three trials is no stall, though the level is flat."""
    values = [*FLAT[:10], 6.5, 4.0, 3.0]
    assert StallReason.MOVING == find_stall(trials("A", values), MIDDLE).reason
    assert find_stall(trials("A", [*values, 4.0]), MIDDLE).stalled


@pytest.mark.parametrize(
    ("context", "reason"),
    [
        (replace(MIDDLE, criterion_met=True), StallReason.CRITERION_MET),
        (replace(MIDDLE, called_at=10), StallReason.CALLED_LATELY),
        (replace(MIDDLE, called_at=9), StallReason.NO_NEW_BEST),
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
