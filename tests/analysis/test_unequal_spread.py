"""The interval for sides that scatter unequally."""

import random

import pytest
from scipy.stats import t, ttest_ind, ttest_rel

from journal.analysis.distributions import student_t_reach
from journal.analysis.permutation.strata import Stratum
from journal.analysis.unequal_spread import unequal_interval


def test_one_student_is_welch_as_in_scipy() -> None:
    """`ttest_ind(equal_var=False).confidence_interval()` on 50 random pairs of samples."""
    draw = random.Random(12)
    for _ in range(50):
        old = [draw.gauss(50, 10) for _ in range(draw.randint(2, 14))]
        new = [draw.gauss(55, 30) for _ in range(draw.randint(2, 8))]
        expected = ttest_ind(new, old, equal_var=False).confidence_interval(0.95)
        found = unequal_interval([Stratum(tuple(old), tuple(new))])
        assert pytest.approx((expected.low, expected.high), rel=1e-7) == found


def test_one_trial_each_is_the_paired_interval_of_scipy() -> None:
    """Where no child has two values of a side, the children's differences scatter."""
    draw = random.Random(13)
    old = [draw.gauss(50, 10) for _ in range(5)]
    new = [value + draw.gauss(8, 4) for value in old]
    expected = ttest_rel(new, old).confidence_interval(0.95)
    found = unequal_interval([Stratum((a,), (b,)) for a, b in zip(old, new, strict=True)])
    assert pytest.approx((expected.low, expected.high), rel=1e-7) == found


def test_t_reach_is_that_of_scipy() -> None:
    """The 97.5 % point, from one degree of freedom to very many, also broken ones."""
    for freedom in (1.0, 1.7, 2.0, 4.3, 11.0, 60.0, 5e3):
        assert pytest.approx(float(t.isf(0.025, freedom)), rel=1e-9) == student_t_reach(freedom)
    assert pytest.approx(1.959964, abs=1e-5) == student_t_reach(1e300)


def test_no_scatter_gives_no_interval() -> None:
    """Equal values on both sides, one trial of one child, and nobody."""
    assert unequal_interval([Stratum((1.0, 1.0), (3.0, 3.0))]) is None
    assert unequal_interval([Stratum((1.0,), (3.0,))]) is None
    assert unequal_interval([]) is None


def test_huge_values_overflow_nothing() -> None:
    """Squares of 1e200 would."""
    found = unequal_interval([Stratum((1e200, 2e200), (3e200, 5e200))])
    small = unequal_interval([Stratum((1.0, 2.0), (3.0, 5.0))])
    assert found is not None
    assert small is not None
    assert pytest.approx([end * 1e200 for end in small]) == list(found)
