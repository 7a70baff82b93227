"""Part intervals: how far the shares of the variance could be off, by parametric bootstrap.

In: cells and the parts found in them. Out: a 95 % interval for each share. New outcomes are drawn
from the parts, seeded, and split again; this costs some hundred splits, so it is made on demand.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import fsum, sqrt
from random import Random

from journal.analysis.cells import Cell, Cells, Effect
from journal.analysis.variance_parts import VarianceParts, find_variance_parts

#: Draws of the bootstrap; ends of a 95 % interval lie at its 5th and its 195th value.
DRAWS = 199
_TAIL = 0.025

Interval = tuple[float, float]


def find_share_intervals(
    cells: Cells, parts: VarianceParts, *, seed: int, draws: int = DRAWS
) -> Mapping[Effect, Interval]:
    """Return a 95 % percentile interval for the share of each effect, in 0..1.

    A parametric bootstrap: `draws` tables are drawn from `parts`, always the same for a `seed`. An
    effect is left out where no drawn table could be split. Efron & Tibshirani, An Introduction to
    the Bootstrap, 1993 (from memory).
    """
    random = Random(seed)  # noqa: S311 - a seeded simulation, not a secret
    effects = tuple(parts.variances)
    shares: dict[Effect, list[float]] = {effect: [] for effect in effects}
    for _ in range(draws):
        found = find_variance_parts(draw_cells(cells, parts, random), effects)
        if found is None:
            continue
        for effect in effects:
            shares[effect].append(found.variances[effect] / found.total)
    return {effect: _middle(sorted(drawn)) for effect, drawn in shares.items() if drawn}


def draw_cells(cells: Cells, parts: VarianceParts, random: Random) -> Cells:
    """Return the same cells with outcomes drawn from the variances of `parts`, by `random`."""
    roots = {effect: sqrt(parts.variances.get(effect, 0.0)) for effect in Effect}

    def draw(effect: Effect) -> float:
        return random.gauss(0.0, roots[effect])

    revisions = [draw(Effect.REVISION) for _ in range(cells.revisions)]
    students = [draw(Effect.STUDENT) for _ in range(cells.students)]
    own_parts = [draw(Effect.OWN_PART) for _ in range(cells.own_parts)]
    fits: dict[tuple[int, int], float] = {}
    drawn: list[Cell] = []
    for cell in cells.cells:
        block = (cell.revision, cell.student)
        if block not in fits:
            fits[block] = draw(Effect.INTERACTION)
        repeats = [draw(Effect.REPEAT) for _ in range(cell.count)]
        repeat = fsum(repeats) / cell.count
        effects = revisions[cell.revision] + students[cell.student] + own_parts[cell.own_part]
        drawn.append(
            replace(
                cell,
                mean=parts.mean + effects + fits[block] + repeat,
                squares=fsum((value - repeat) ** 2 for value in repeats),
            )
        )
    return replace(cells, cells=tuple(drawn))


def _middle(ordered: list[float]) -> Interval:
    """Return the values that leave 2.5 % on each side."""
    place = round(_TAIL * (len(ordered) + 1)) - 1
    place = max(0, place)
    return (ordered[place], ordered[-1 - place])
