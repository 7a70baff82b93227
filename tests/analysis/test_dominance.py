"""How often the new one is ahead."""

import random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import mannwhitneyu

from journal.analysis.dominance import cliff_delta, hodges_lehmann
from tests.analysis.trial_records import MEASURES

SIDES = st.lists(MEASURES, min_size=1, max_size=8)


def test_delta_is_that_of_the_mann_whitney_statistic() -> None:
    """Delta is 2 U / (m n) - 1 with SciPy's U, on 1,000 random cases with ties."""
    draw = random.Random(5)
    for _ in range(1_000):
        old = [float(draw.randint(0, 9)) for _ in range(draw.randint(1, 12))]
        new = [float(draw.randint(0, 9)) for _ in range(draw.randint(1, 12))]
        u = mannwhitneyu(new, old, method="asymptotic").statistic if len({*old, *new}) > 1 else None
        expected = 0.0 if u is None else 2 * u / (len(old) * len(new)) - 1
        assert pytest.approx(expected, abs=1e-12) == cliff_delta(old, new)


@given(SIDES, SIDES)
def test_swapping_sides_flips_the_sign(old: list[float], new: list[float]) -> None:
    """New against old is minus old against new, for both figures."""
    delta, middle = cliff_delta(old, new), hodges_lehmann(old, new)
    assert delta is not None
    assert middle is not None
    assert -delta == cliff_delta(new, old)
    assert -middle == hodges_lehmann(new, old)


def test_middle_difference_is_the_median_of_all_pairs() -> None:
    """As NumPy's median of the outer difference, also where there are too many to write out."""
    draw = random.Random(8)
    for count in (3, 10, 400):
        old = [draw.gauss(0, 1) for _ in range(count)]
        new = [draw.gauss(1, 2) for _ in range(count + 1)]
        expected = np.median(np.subtract.outer(new, old))
        assert pytest.approx(expected, abs=1e-4 if count == 400 else 1e-12) == hodges_lehmann(
            old, new
        )


def test_an_empty_side_says_nothing() -> None:
    """Without old or without new trials there are no pairs."""
    assert cliff_delta([], [1.0]) is None
    assert hodges_lehmann([1.0], []) is None
