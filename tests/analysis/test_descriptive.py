"""Middle, spread and quartiles, against NumPy and Python's own statistics module."""

import random
import statistics
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.analysis.descriptive import (
    lag_one_of,
    mad_of,
    mean_of,
    median_of,
    school_quartiles,
    sd_of,
)

FINITE = st.floats(min_value=-1e6, max_value=1e6, allow_nan=False)


def test_figures_agree_with_numpy_on_random_values() -> None:
    """Mean, median, sd and mean absolute deviation are those of NumPy (1,000 random sets)."""
    draw = random.Random(1)
    for _ in range(1_000):
        values = [draw.gauss(100, 30) for _ in range(draw.randint(2, 30))]
        array = np.array(values)
        assert pytest.approx(array.mean(), rel=1e-12) == mean_of(values)
        assert pytest.approx(np.median(array), rel=1e-12) == median_of(values)
        assert pytest.approx(array.std(ddof=1), rel=1e-9) == sd_of(values)
        assert pytest.approx(np.abs(array - array.mean()).mean(), rel=1e-9) == mad_of(values)


@given(st.lists(FINITE, min_size=1, max_size=20))
def test_mean_is_the_exactly_rounded_one(values: list[float]) -> None:
    """The decimals as written are added exactly and rounded once (Python's statistics.mean)."""
    assert float(statistics.mean(Fraction(repr(value)) for value in values)) == mean_of(values)


@given(st.lists(FINITE, min_size=2, max_size=20), st.integers(-1_000, 1_000))
def test_adding_a_constant_moves_the_middle_and_not_the_spread(
    values: list[float], shift: int
) -> None:
    """Whole numbers moved by a whole number keep sd and mean absolute deviation."""
    whole = [float(round(value)) for value in values]
    moved = [value + shift for value in whole]
    assert sd_of(whole) == sd_of(moved)
    assert mad_of(whole) == mad_of(moved)
    assert pytest.approx((mean_of(whole) or 0.0) + shift, abs=1e-6) == mean_of(moved)


def test_quartiles_are_the_medians_of_the_halves() -> None:
    """The middle value of an odd count belongs to neither half."""
    assert (2.0, 5.0) == school_quartiles([1.0, 2.0, 3.0, 4.0, 5.0, 6.0])
    assert (1.5, 4.5) == school_quartiles([5.0, 4.0, 3.0, 2.0, 1.0])


def test_too_few_values_give_none() -> None:
    """What cannot be said is None, never a zero or an exception."""
    assert [None] * 4 == [figure([]) for figure in (mean_of, median_of, sd_of, mad_of)]
    assert sd_of([3.0]) is None
    assert school_quartiles([3.0]) is None
    assert lag_one_of([3.0, 3.0]) is None
