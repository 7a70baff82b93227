"""The restricted likelihood against the same written out with whole matrices by numpy."""

from __future__ import annotations

import random

import pytest

from journal.analysis.cell_layout import lay_out
from journal.analysis.cells import Effect, sort_into_cells
from journal.analysis.likelihood import RestrictedLikelihood
from tests.analysis.observations import DenseLikelihood, draw_observations, effects_of


@pytest.mark.parametrize("exchanged", [False, True])
def test_cost_and_slope_agree_with_whole_matrices(*, exchanged: bool) -> None:
    """Differences of the cost are numpy's, and the slope is that of the cost."""
    draw = random.Random(10)
    effects = effects_of(exchanged=exchanged)
    for seed in range(40):
        seen = draw_observations(seed, exchanged=exchanged)
        layout = lay_out(sort_into_cells(seen, with_own_part=exchanged), effects)
        dense = DenseLikelihood(seen, effects)
        here = {effect: draw.uniform(0.1, 2.0) for effect in effects}
        there = {effect: draw.choice([0.0, 1.0]) for effect in effects} | {Effect.REPEAT: 0.7}
        found = RestrictedLikelihood(layout, here).cost - RestrictedLikelihood(layout, there).cost
        expected = dense.cost(list(here.values())) - dense.cost(list(there.values()))
        assert found == pytest.approx(expected, abs=1e-7)
        slope = RestrictedLikelihood(layout, here).find_slope()
        for effect in effects:
            up = dense.cost([*(here | {effect: here[effect] + 1e-5}).values()])
            down = dense.cost([*(here | {effect: here[effect] - 1e-5}).values()])
            assert slope.by_effect[effect] == pytest.approx((up - down) / 2e-5, rel=1e-4, abs=1e-4)
