"""Likelihood of variance parts, restricted to what the mean does not explain (REML).

In: the layout of cells and a variance for each effect. Out: minus twice the restricted
log-likelihood, how it changes with each variance, and the average information for a Newton step
(Gilmour, Thompson & Cullis 1995). Groups have few revisions and students, so every system is
solved at their size, never at the number of trials.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import log, log1p, sqrt
from operator import mul

from journal.analysis.cell_layout import CellLayout
from journal.analysis.cells import Effect
from journal.analysis.equations import Matrix, NotPositiveDefinite, Vector, invert_positive


@dataclass(frozen=True, slots=True)
class Slope:
    """How the cost changes with each variance."""

    by_effect: Mapping[Effect, float]
    #: Average information for each pair of effects: the curvature of the cost.
    information: Mapping[tuple[Effect, Effect], float]


class RestrictedLikelihood:
    """The restricted likelihood at one set of variances; outcomes in units near 1.

    Raises NotPositiveDefinite at variances too unlike each other to compute it.
    """

    def __init__(self, layout: CellLayout, variances: Mapping[Effect, float]) -> None:
        self._layout = layout
        self._variances = variances
        self._repeat = variances[Effect.REPEAT]
        self._weights = [cell.count / self._repeat for cell in layout.cells]
        self._shrink = self._find_shrink()
        self._ones = self._weigh([1.0] * len(layout.cells))
        self._total = sum(self._ones)
        if not self._total > 0.0:
            raise NotPositiveDefinite(f"the weights add up to {self._total}")
        self._column = self._gather(self._ones)
        self._table = self._build_table()
        self._core, log_system = self._build_core()
        means = [cell.mean for cell in layout.cells]
        self._left = self._project(means)
        log_blocks = -sum(log(weight) for weight in self._weights)
        fit = variances.get(Effect.INTERACTION, 0.0)
        log_blocks += sum(
            log1p(fit * sum(self._weights[k] for k in block)) for block in layout.blocks
        )
        #: Minus twice the restricted log-likelihood, up to a constant.
        self.cost = (
            log_blocks
            + log_system
            + log(self._total)
            + _dot(means, self._left)
            + layout.freedom_within * log(self._repeat)
            + layout.squares_within / self._repeat
        )

    def _find_shrink(self) -> Vector:
        fit = self._variances.get(Effect.INTERACTION, 0.0)
        totals = [sum(self._weights[k] for k in block) for block in self._layout.blocks]
        return [fit / (1.0 + fit * total) for total in totals]

    def _build_core(self) -> tuple[Matrix, float]:
        size = self._layout.size
        scale = [0.0] * size
        for effect, levels in self._layout.ranges.items():
            for level in levels:
                scale[level] = sqrt(self._variances[effect])
        inverse, log_system = invert_positive(
            [
                [scale[i] * self._table[i][j] * scale[j] + (i == j) for j in range(size)]
                for i in range(size)
            ]
        )
        core = [[scale[i] * inverse[i][j] * scale[j] for j in range(size)] for i in range(size)]
        return core, log_system

    def _weigh(self, values: Vector) -> Vector:
        """Multiply by the inverse of the part inside each student-revision block."""
        weighted = [w * v for w, v in zip(self._weights, values, strict=True)]
        for block, shrink in zip(self._layout.blocks, self._shrink, strict=True):
            if shrink:
                pull = shrink * sum(weighted[k] for k in block)
                for k in block:
                    weighted[k] -= pull * self._weights[k]
        return weighted

    def _gather(self, values: Vector) -> Vector:
        """Add up values by level of each effect."""
        sums = [0.0] * self._layout.size
        for value, levels in zip(values, self._layout.levels, strict=True):
            for level in levels:
                sums[level] += value
        return sums

    def _project(self, values: Vector) -> Vector:
        """Multiply by the projection that takes out the mean and weighs by all variances."""
        weighted = self._weigh(values)
        share = sum(weighted) / self._total
        weighted = [a - share * b for a, b in zip(weighted, self._ones, strict=True)]
        sums = self._gather(weighted)
        pull = [_dot(row, sums) for row in self._core]
        spread = self._weigh([sum(pull[i] for i in levels) for levels in self._layout.levels])
        share = sum(spread) / self._total
        return [a - b + share * c for a, b, c in zip(weighted, spread, self._ones, strict=True)]

    def _build_table(self) -> Matrix:
        """Return the effects' products, weighed and with the mean taken out."""
        layout = self._layout
        table = [[-a * b / self._total for b in self._column] for a in self._column]
        for weight, levels in zip(self._weights, layout.levels, strict=True):
            for i in levels:
                for j in levels:
                    table[i][j] += weight
        for block, shrink in zip(layout.blocks, self._shrink, strict=True):
            if not shrink:
                continue
            sums = self._block_sums(block)
            for i, a in sums.items():
                for j, b in sums.items():
                    table[i][j] -= shrink * a * b
        return table

    def _block_sums(self, block: Sequence[int]) -> dict[int, float]:
        sums: dict[int, float] = {}
        for k in block:
            for level in self._layout.levels[k]:
                sums[level] = sums.get(level, 0.0) + self._weights[k]
        return sums

    def find_slope(self) -> Slope:
        """Return how the cost changes with each variance, and its average information."""
        layout = self._layout
        traces = {effect: self._trace_of(levels) for effect, levels in layout.ranges.items()}
        if Effect.INTERACTION in layout.effects:
            traces[Effect.INTERACTION] = self._trace_of_blocks()
        # The traces, each times its variance, add up to the degrees of freedom.
        known = sum(self._variances[effect] * trace for effect, trace in traces.items())
        traces[Effect.REPEAT] = (len(layout.cells) - 1 - known) / self._repeat
        vectors = {effect: self._vector_of(effect) for effect in layout.effects}
        slope = {
            effect: traces[effect] - _dot(self._left, vectors[effect]) for effect in layout.effects
        }
        slope[Effect.REPEAT] += (
            layout.freedom_within - layout.squares_within / self._repeat
        ) / self._repeat
        projected = {effect: self._project(vector) for effect, vector in vectors.items()}
        information = {
            (a, b): _dot(vectors[a], projected[b]) for a in layout.effects for b in layout.effects
        }
        information[Effect.REPEAT, Effect.REPEAT] += layout.squares_within / self._repeat**3
        return Slope(slope, information)

    def _vector_of(self, effect: Effect) -> Vector:
        layout = self._layout
        if effect is Effect.REPEAT:
            return [a / cell.count for a, cell in zip(self._left, layout.cells, strict=True)]
        vector = [0.0] * len(layout.cells)
        if effect is Effect.INTERACTION:
            for block in layout.blocks:
                total = sum(self._left[k] for k in block)
                for k in block:
                    vector[k] = total
            return vector
        sums = self._gather(self._left)
        place = list(layout.ranges).index(effect)
        return [sums[levels[place]] for levels in layout.levels]

    def _trace_of(self, levels: range) -> float:
        total = 0.0
        for i in levels:
            row = self._table[i]
            reached = [_dot(row, line) for line in self._core]
            total += row[i] - _dot(row, reached)
        return total

    def _trace_of_blocks(self) -> float:
        reached = [_dot(row, self._column) for row in self._core]
        whole = _dot(reached, self._column)
        trace = 0.0
        for block, shrink in zip(self._layout.blocks, self._shrink, strict=True):
            weight = sum(self._weights[k] for k in block)
            kept = weight - shrink * weight * weight
            ratio = kept / self._total
            sums = self._block_sums(block)
            factor = 1.0 - shrink * weight
            items = [(i, factor * value) for i, value in sums.items()]
            inside = sum(a * b * self._core[i][j] for i, a in items for j, b in items)
            across = sum(a * reached[i] for i, a in items)
            trace += kept - kept * ratio
            trace -= inside - 2.0 * ratio * across + ratio * ratio * whole
        return trace


def _dot(left: Vector, right: Vector) -> float:
    """Return the sum of products of two vectors; this is where the time goes."""
    total: float = sum(map(mul, left, right))
    return total
