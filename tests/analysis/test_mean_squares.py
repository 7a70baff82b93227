"""Sums of squares against scipy and statsmodels."""

from __future__ import annotations

import random

import numpy as np
import pandas as pd
import pytest
import statsmodels.formula.api as smf
from scipy import stats
from statsmodels.stats.anova import anova_lm

from journal.analysis.mean_squares import Source, split_one_way, split_two_way


def test_one_way_agrees_with_scipy() -> None:
    """F and p of a thousand random sets of groups are scipy's."""
    draw = random.Random(8)
    for _ in range(1000):
        groups = [
            [draw.gauss(level, 1) for _ in range(draw.randint(2, 8))]
            for level in range(draw.randint(2, 5))
        ]
        found = split_one_way(groups)
        expected = stats.f_oneway(*groups)
        assert found.between.f_against(found.within) == pytest.approx(expected.statistic, rel=1e-9)
        p_value = found.between.p_against(found.within)
        assert p_value == pytest.approx(expected.pvalue, rel=1e-8, abs=1e-300)


def test_two_way_agrees_with_statsmodels() -> None:
    """Squares and degrees of freedom of a random table are those of statsmodels' table."""
    table = np.random.default_rng(9).normal(0, 1, (3, 4, 2)).tolist()
    rows = [
        (f"r{i}", f"c{j}", value)
        for i, row in enumerate(table)
        for j, c in enumerate(row)
        for value in c
    ]
    frame = pd.DataFrame(rows, columns=["row", "column", "value"])
    expected = anova_lm(smf.ols("value ~ row * column", frame).fit())
    found = split_two_way(table)
    assert found.repeat is not None
    for line, name in (
        (found.row, "row"),
        (found.column, "column"),
        (found.interaction, "row:column"),
        (found.repeat, "Residual"),
    ):
        assert line.squares == pytest.approx(expected.loc[name, "sum_sq"], rel=1e-9)
        assert line.freedom == expected.loc[name, "df"]


def test_without_repeats_the_interaction_is_what_is_left_over() -> None:
    """One value a cell gives no repeat line, and no interaction variance."""
    found = split_two_way([[[1.0], [2.0]], [[4.0], [3.0]]])
    assert found.repeat is None
    assert found.interaction_variance is None
    assert found.repeat_variance == found.interaction.mean_square


def test_values_without_any_variation_have_f_zero() -> None:
    """Where nothing varies F is 0; where only the groups vary it has no bound."""
    level = split_one_way([[1.0, 1.0], [1.0, 1.0]])
    assert level.between.f_against(level.within) == 0.0
    apart = split_one_way([[1.0, 1.0], [2.0, 2.0]])
    assert apart.between.p_against(apart.within) == 0.0
    assert Source(squares=0.0, freedom=0).mean_square == 0.0
