"""When a swap test is judged, and at what level."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import norm

from journal.analysis.swap_looks import (
    SwapCourse,
    count_pairs_to_next_look,
    find_last_look,
    level_of_test,
)


def _course(pairs: int, planned: int = 24, **changes: int) -> SwapCourse:
    over = bool(changes.pop("is_over", pairs == planned))
    given = {"earlier_pairs": 0, "number": 1, **changes}
    return SwapCourse(pairs=pairs, planned_pairs=planned, is_over=over, **given)


def test_looks_are_at_eight_pairs_then_each_fourth_and_at_the_end() -> None:
    """Of 22 planned: 8, 12, 16, 20 and 22; between them the last one stands."""
    found = [find_last_look(_course(pairs, 22)) for pairs in range(1, 23)]
    assert [0] * 7 + [8] * 4 + [12] * 4 + [16] * 4 + [20] * 2 + [22] == [
        look.pairs if look else 0 for look in found
    ]
    assert (7, 4, 1, 2, 1, None) == tuple(
        count_pairs_to_next_look(_course(pairs, 22)) for pairs in (1, 8, 11, 20, 21, 22)
    )


def test_the_levels_of_all_tests_of_the_same_two_add_up_to_no_more_than_five_percent() -> None:
    """However often a pair is tested again; six pairs that all agree (p .03125) can tell."""
    assert sum(level_of_test(number) for number in range(1, 50)) <= 0.05
    assert level_of_test(1) > 2 / 2**6


def test_paths_without_a_difference_cross_a_bound_in_no_more_than_the_level() -> None:
    """Brownian paths looked at as planned, or broken off after ten, against 200,000 draws."""
    rng = np.random.default_rng(91)
    sums = rng.normal(size=(200_000, 24)).cumsum(axis=1)
    crossed = np.zeros(len(sums), dtype=bool)
    for pairs in range(1, 25):
        look = find_last_look(_course(pairs))
        if look is not None and look.pairs == pairs and look.level > 0:
            crossed |= np.abs(sums[:, pairs - 1]) / pairs**0.5 > norm.isf(look.level / 2)
    assert float(crossed.mean()) == pytest.approx(level_of_test(1), abs=0.002)


def test_ending_early_gives_no_more_level() -> None:
    """A look at ten of 24 pairs has less than the last look of a test that is finished."""
    ended, finished = (find_last_look(_course(pairs, is_over=True)) for pairs in (10, 24))
    assert ended is not None
    assert finished is not None
    assert 10 == ended.pairs
    assert ended.level < finished.level / 10


def test_a_second_test_looks_only_at_counts_that_it_reached_itself() -> None:
    """Twelve earlier pairs, twelve planned: the first look of its own is at 16 of all pairs."""
    assert find_last_look(_course(3, 12, earlier_pairs=12, number=2)) is None
    look = find_last_look(_course(5, 12, earlier_pairs=12, number=2))
    assert look is not None
    assert 16 == look.pairs
    assert look.level < level_of_test(2)
