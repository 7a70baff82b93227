"""Intraclass correlation against other libraries; its published values stand in their file."""

from __future__ import annotations

import random

import numpy as np
import pandas as pd
import pytest
import statsmodels.formula.api as smf
from sklearn.metrics import cohen_kappa_score
from statsmodels.stats.anova import anova_lm

from journal.analysis.intraclass import correlate_ratings


def test_cannot_say_with_one_scorer_or_one_thing() -> None:
    """Both need at least two."""
    assert correlate_ratings([[1.0], [2.0]]) is None
    assert correlate_ratings([[1.0, 2.0]]) is None


def test_ratings_that_do_not_vary_have_no_correlation() -> None:
    """Nothing between the things rated and nothing within leaves nothing to divide by."""
    found = correlate_ratings([[2.0, 2.0], [2.0, 2.0]])
    assert found is not None
    assert found.one_way is None
    assert found.p_value is None


def test_scorers_who_differ_by_less_than_their_errors_have_no_correlation_beyond_one() -> None:
    """(2, 1) and (1, 2): a divisor at or below 0 says nothing."""
    found = correlate_ratings([[2.0, 1.0], [1.0, 2.0]])
    assert found is not None
    assert (found.two_way, found.two_way_of_mean) == (None, None)


def test_two_scorers_mean_squares_give_the_quadratic_kappa() -> None:
    """Fleiss & Cohen (1973) tie both together; kappa is scikit-learn's, on 1,000 random cases.

    With n things kappa is (B - E) / (B + E + 2 J / (n - 1)), worked out from both definitions.
    """
    draw = random.Random(3)
    for _ in range(1000):
        count = draw.randint(4, 20)
        first = [draw.randint(1, 4) for _ in range(count)]
        second = [min(4, max(1, level + draw.choice((-1, 0, 0, 1, 2)))) for level in first]
        found = correlate_ratings([*zip(first, second, strict=True)])
        assert found is not None
        between, error = found.between_mean_square, found.error_mean_square
        below = between + error + 2 * found.scorer_mean_square / (count - 1)
        if below == 0:
            continue
        expected = cohen_kappa_score(first, second, labels=[1, 2, 3, 4], weights="quadratic")
        assert (between - error) / below == pytest.approx(expected, abs=1e-9)


def test_its_p_value_is_that_of_the_table_of_variance() -> None:
    """F of things against what is left over, as in statsmodels' table without interaction."""
    table = np.random.default_rng(4).normal(0, 1, (6, 3)) + np.arange(6)[:, None] / 3
    rows = [(i, j, value) for i, row in enumerate(table) for j, value in enumerate(row)]
    frame = pd.DataFrame(rows, columns=["thing", "scorer", "value"])
    expected = anova_lm(smf.ols("value ~ C(thing) + C(scorer)", frame).fit())
    found = correlate_ratings(table.tolist())
    assert found is not None
    assert found.p_value == pytest.approx(expected.loc["C(thing)", "PR(>F)"], rel=1e-9)
