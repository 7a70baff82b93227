"""Kendall's rank correlation, against SciPy."""

import random

import pytest
from scipy.stats import kendalltau

from journal.analysis.kendall import kendall
from journal.analysis.permutation.permute import Method


def test_tau_and_p_are_those_of_scipy() -> None:
    """`scipy.stats.kendalltau` on 1,000 random cases: exact without ties, else asymptotic."""
    draw = random.Random(2)
    for case in range(1_000):
        n = draw.randint(8, 20)
        xs = [float(x) for x in draw.sample(range(n), n)]
        ys = [draw.random() for _ in range(n)]
        if case % 2:
            xs = [float(draw.randint(1, 5)) for _ in range(n - 2)] + [0.0, 9.0]
            ys = [float(draw.randint(1, 5)) for _ in range(n - 2)] + [0.0, 9.0]
        tau, p_value, method = kendall(list(zip(xs, ys, strict=True)))
        tied = len(set(xs)) < n and len(set(ys)) < n
        expected = kendalltau(xs, ys, method="asymptotic" if method is Method.NORMAL else "exact")
        assert (Method.NORMAL if tied else Method.EXACT) == method
        assert pytest.approx(expected.statistic) == tau
        assert pytest.approx(expected.pvalue) == p_value


def test_ties_on_one_side_are_counted_out() -> None:
    """Amounts 1, 1, 2, 2 with rising outcomes: 2 of the 6 distinct orders are as far out."""
    tau, p_value, method = kendall([(1.0, 1.0), (1.0, 2.0), (2.0, 3.0), (2.0, 4.0)])
    assert pytest.approx(4 / (4 * 6) ** 0.5) == tau
    assert pytest.approx(2 / 6) == p_value
    assert Method.EXACT == method
