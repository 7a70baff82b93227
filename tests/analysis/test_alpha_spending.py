"""What looks cost."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import norm

from journal.analysis.alpha_spending import Spending, levels_of, spent_by

STEPS = (6 / 48, 8 / 48, 12 / 48, 16 / 48, 24 / 48, 36 / 48, 1.0)


@pytest.mark.parametrize("spending", list(Spending))
def test_all_looks_together_keep_the_level(spending: Spending) -> None:
    """200,000 random walks, seeded, looked at seven times: one in twenty passes some bound."""
    draw = np.random.default_rng(5)
    steps = np.sqrt(np.diff(np.array((0.0, *STEPS))))
    paths = np.cumsum(draw.normal(size=(200_000, len(STEPS))) * steps, axis=1) / np.sqrt(STEPS)
    bounds = norm.isf(np.array(levels_of(STEPS, 0.05, spending)) / 2)
    assert pytest.approx(0.05, abs=0.002) == float((np.abs(paths) >= bounds).any(axis=1).mean())


def test_a_single_look_at_everything_has_the_whole_level() -> None:
    """And nothing is left for another one."""
    for spending in Spending:
        assert (pytest.approx(0.05, abs=1e-9), 0.0) == levels_of((1.0, 1.0), 0.05, spending)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.floats(0.01, 1.2), min_size=1, max_size=7, unique=True),
    st.sampled_from(list(Spending)),
)
def test_no_look_costs_more_than_is_allowed_by_then(
    fractions: list[float], spending: Spending
) -> None:
    """A level lies between what is newly allowed and all that is allowed by then."""
    course = tuple(sorted(fractions))
    used = 0.0
    for fraction, level in zip(course, levels_of(course, 0.05, spending), strict=True):
        allowed = spent_by(fraction, 0.05, spending)
        if level:
            assert allowed - used - 1e-7 <= level <= allowed + 1e-7
            used = allowed


@settings(max_examples=15, deadline=None)
@given(st.floats(0.05, 0.9), st.floats(0.0, 0.2))
def test_looks_close_together_keep_the_level(first: float, gain: float) -> None:
    """Two looks, the second with hardly more information: drawn by numpy, 100,000 pairs."""
    course = (first, min(1.0, first + gain))
    draw = np.random.default_rng(6)
    start = draw.normal(size=100_000) * first**0.5
    end = start + draw.normal(size=100_000) * (course[1] - first) ** 0.5
    bounds = norm.isf(np.array(levels_of(course, 0.05, Spending.POCOCK)) / 2)
    called = (np.abs(start) >= bounds[0] * first**0.5) | (
        np.abs(end) >= bounds[1] * course[1] ** 0.5
    )
    allowed = spent_by(course[1], 0.05, Spending.POCOCK)
    assert float(called.mean()) < allowed + 4 * (allowed / 100_000) ** 0.5
