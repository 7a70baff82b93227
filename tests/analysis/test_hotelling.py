"""Hotelling's test against statsmodels."""

from __future__ import annotations

import numpy as np
import pytest
from statsmodels.stats.multivariate import test_mvmean as reference_test

from journal.analysis.hotelling import compare_centre


def test_agrees_with_statsmodels() -> None:
    """T-square and p are statsmodels' in a thousand random cases."""
    draw = np.random.default_rng(4)
    for _ in range(1000):
        width = int(draw.integers(2, 5))
        rows = draw.normal(0.3, 1.0, (int(draw.integers(width + 2, 30)), width))
        found = compare_centre(rows.tolist(), [0.0] * width)
        expected = reference_test(rows, np.zeros(width))
        assert found is not None
        assert found.t_square == pytest.approx(expected.t2, rel=1e-8)
        assert found.p_value == pytest.approx(expected.pvalue, rel=1e-8, abs=1e-14)


def test_cannot_say_with_few_rows_or_rows_on_a_line() -> None:
    """No more rows than measures, or no variation across, leave no test."""
    assert compare_centre([(1.0, 2.0), (3.0, 1.0)], (0.0, 0.0)) is None
    assert compare_centre([(1.0, 1.0), (2.0, 2.0), (3.0, 3.0)], (0.0, 0.0)) is None
