"""Chance distributions against scipy."""

from __future__ import annotations

import random
from math import inf

import pytest
from scipy import stats

from journal.analysis.distributions import (
    chi_square_probability,
    chi_square_quantile,
    f_exceedance,
    normal_probability,
)

CASES = 1000


def test_chi_square_agrees_with_scipy() -> None:
    """Probability and quantile are scipy's in a thousand random cases."""
    draw = random.Random(1)
    for _ in range(CASES):
        freedom, chance = draw.randint(1, 300), draw.uniform(0.001, 0.999)
        value = stats.chi2.ppf(chance, freedom)
        assert chi_square_quantile(chance, freedom) == pytest.approx(value, rel=1e-10)
        assert chi_square_probability(value, freedom) == pytest.approx(chance, rel=1e-10)


def test_f_and_normal_agree_with_scipy() -> None:
    """The tail of F and the normal probability are scipy's in a thousand random cases."""
    draw = random.Random(2)
    for _ in range(CASES):
        above, below = draw.randint(1, 30), draw.randint(1, 300)
        value, z = draw.expovariate(0.4), draw.gauss(0, 3)
        expected = stats.f.sf(value, above, below)
        assert f_exceedance(value, above, below) == pytest.approx(expected, rel=1e-9, abs=1e-300)
        assert normal_probability(z) == pytest.approx(stats.norm.cdf(z), rel=1e-10)


def test_edges_of_the_range_are_said() -> None:
    """Nothing lies below 0, nothing above infinity, and a certainty has no quantile."""
    assert chi_square_probability(0.0, 3) == 0.0
    assert f_exceedance(0.0, 2, 3) == 1.0
    assert f_exceedance(inf, 2, 3) == 0.0
    assert f_exceedance(1e-320, 2, 3) == 1.0
    assert f_exceedance(1e300, 2, 40) == 0.0
    for chance in (0.0, 1.0):
        with pytest.raises(ValueError, match="between 0 and 1"):
            chi_square_quantile(chance, 3)
