"""Variance parts: how much of the outcome's variance goes with each effect.

In: cells of trials and the effects to tell apart. Out: a variance for each effect, by expected
mean squares where every student used every revision equally often, else by REML.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from math import fsum, sqrt

from journal.analysis.cells import Cells, Effect
from journal.analysis.mean_squares import split_two_way_means
from journal.analysis.reml import climb_likelihood

Variances = Mapping[Effect, float]


class Method(StrEnum):
    """How variances were estimated."""

    MEAN_SQUARES = "mean_squares"
    REML = "reml"


@dataclass(frozen=True, slots=True, kw_only=True)
class VarianceParts:
    """A variance for each effect, in squared units of the outcome."""

    mean: float
    variances: Variances
    method: Method
    #: Effects whose variance came out negative, or at its lower end, and is shown as 0.
    held_at_zero: tuple[Effect, ...]

    @property
    def total(self) -> float:
        """Return the sum of all parts."""
        return fsum(self.variances.values())


def find_variance_parts(cells: Cells, effects: Sequence[Effect]) -> VarianceParts | None:
    """Split the variance by `effects`, which must be separable and hold REPEAT.

    None where all values are equal: there is no variance to split.
    """
    mean = fsum(cell.count * cell.mean for cell in cells.cells) / cells.count
    squares = fsum(
        cell.squares + cell.count * (cell.mean - mean) * (cell.mean - mean) for cell in cells.cells
    )
    unit = sqrt(squares / max(1, cells.count - 1))
    if not unit > 0.0:
        return None
    scaled = replace(
        cells,
        cells=tuple(
            replace(cell, mean=(cell.mean - mean) / unit, squares=cell.squares / (unit * unit))
            for cell in cells.cells
        ),
    )
    if Effect.OWN_PART not in effects and _is_balanced(cells):
        method, found = Method.MEAN_SQUARES, _split_balanced(scaled, effects)
    else:
        method, found = Method.REML, climb_likelihood(scaled, effects)
    return VarianceParts(
        mean=mean,
        variances={effect: max(0.0, found[effect]) * unit * unit for effect in effects},
        method=method,
        held_at_zero=tuple(
            effect for effect in effects if effect is not Effect.REPEAT and found[effect] <= 0.0
        ),
    )


def _is_balanced(cells: Cells) -> bool:
    full = len(cells.cells) == cells.revisions * cells.students
    return full and len({cell.count for cell in cells.cells}) == 1


def _split_balanced(cells: Cells, effects: Sequence[Effect]) -> dict[Effect, float]:
    """Equate mean squares with what they are expected to be."""
    means = [[0.0] * cells.students for _ in range(cells.revisions)]
    for cell in cells.cells:
        means[cell.revision][cell.student] = cell.mean
    split = split_two_way_means(
        means,
        repeats=cells.cells[0].count,
        repeat_squares=fsum(cell.squares for cell in cells.cells),
    )
    found = {
        Effect.REVISION: split.row_variance,
        Effect.STUDENT: split.column_variance,
        Effect.REPEAT: split.repeat_variance,
    }
    if Effect.INTERACTION in effects and split.interaction_variance is not None:
        found[Effect.INTERACTION] = split.interaction_variance
    return found
