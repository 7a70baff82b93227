"""Intervals of the shares: seeded, around the truth, and honest about few students."""

from __future__ import annotations

import random

import pytest

from journal.analysis.cells import Effect, Observation, sort_into_cells
from journal.analysis.part_intervals import draw_cells, find_share_intervals
from journal.analysis.variance_parts import VarianceParts, find_variance_parts
from tests.analysis.observations import draw_observations, effects_of

EFFECTS = effects_of(exchanged=False)


def test_the_same_seed_gives_the_same_intervals() -> None:
    """Intervals are drawn, yet the same data always gets the same ones."""
    cells = sort_into_cells(draw_observations(3, exchanged=False), with_own_part=False)
    parts = find_variance_parts(cells, EFFECTS)
    assert parts is not None
    first = find_share_intervals(cells, parts, seed=1, draws=39)
    assert first == find_share_intervals(cells, parts, seed=1, draws=39)
    assert all(0.0 <= low <= high <= 1.0 for low, high in first.values())


def test_drawn_outcomes_have_the_parts_they_were_drawn_from() -> None:
    """Over twelve tables of 40 revisions and students the mean parts are near the true ones.

    Tolerances are three standard errors: a variance of 40 levels is known to about 23 %.
    """
    seen = [
        Observation(revision=f"r{i}", student=f"s{j}", own_part="", value=float(i + j + k))
        for i in range(40)
        for j in range(40)
        for k in range(2)
    ]
    cells = sort_into_cells(seen, with_own_part=False)
    first = find_variance_parts(cells, EFFECTS)
    assert first is not None
    truth = VarianceParts(
        mean=5.0,
        variances=dict(zip(EFFECTS, (4.0, 2.0, 1.0, 0.5), strict=True)),
        method=first.method,
        held_at_zero=(),
    )
    totals = dict.fromkeys(EFFECTS, 0.0)
    for seed in range(12):
        found = find_variance_parts(draw_cells(cells, truth, random.Random(seed)), EFFECTS)
        assert found is not None
        for effect, variance in found.variances.items():
            totals[effect] += variance / 12
    assert totals[Effect.REVISION] == pytest.approx(4.0, rel=0.2)
    assert totals[Effect.STUDENT] == pytest.approx(2.0, rel=0.2)
    assert totals[Effect.INTERACTION] == pytest.approx(1.0, rel=0.04)
    assert totals[Effect.REPEAT] == pytest.approx(0.5, rel=0.04)
