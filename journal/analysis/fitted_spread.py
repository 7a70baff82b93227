"""Fitted spread: the scatter that best explains exact hits, scores and hits beyond the panel.

In: hits in mm, how often each number of points came up without a position, how many hits the
wall took, and the panel. Out: the middle and scatter of greatest likelihood.
A hit beyond the panel enters as "at least that far": dropping it pulls everything to the middle.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import exp, hypot, inf, log, pi

from journal.analysis.spread import FEWEST_HITS, Hit
from journal.analysis.zone_map import find_chances, map_zones
from journal.domain.panels import Panel

#: Scatter is looked for between these sizes, in mm.
_SMALLEST_MM, _LARGEST_MM = 1.0, 5_000.0
_MOST_STEPS = 400
#: The search ends when the likelihood differs by less than this over the simplex.
_SETTLED = 1e-7
#: A probability below this is taken as this, so that its logarithm stays finite.
_LEAST_CHANCE = 1e-12

Point = tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedSpread:
    """The middle and scatter under which the trials were most likely."""

    count: int
    scores_only: int
    beyond_panel: int
    offset_mm: float
    #: None where only scores speak: rings and squares about the aim point hide the direction.
    offset_x_mm: float | None
    offset_y_mm: float | None
    scatter_mm: float


def fit_spread(
    hits: Sequence[Hit], scores: Mapping[float, int], beyond_panel: int, panel: Panel
) -> FittedSpread | None:
    """Fit centre and scatter by maximum likelihood to exact hits, scores and misses together.

    `hits` are (x, y) in mm from the aim point; `scores` counts trials without a position by their
    points; `beyond_panel` counts those that missed the panel. None with fewer than four trials, all
    of them in one zone or on one spot or beyond the panel, or with points that the panel does not
    have.
    """
    strips = map_zones(panel)
    known = {points for strip in strips for points in strip.points}
    count = len(hits) + sum(scores.values()) + beyond_panel
    if count < FEWEST_HITS or not scores.keys() <= known:
        return None
    if len(set(hits)) + sum(1 for times in scores.values() if times) + bool(beyond_panel) <= 1:
        return None

    def cost(at: Point) -> float:
        x_mm, y_mm, log_scatter = at
        if not log(_SMALLEST_MM) <= log_scatter <= log(_LARGEST_MM):
            return inf
        scatter_mm = exp(log_scatter)
        variance = scatter_mm * scatter_mm
        squares = sum((x - x_mm) * (x - x_mm) + (y - y_mm) * (y - y_mm) for x, y in hits)
        total = len(hits) * log(2.0 * pi * variance) + squares / (2.0 * variance)
        if scores or beyond_panel:
            chances, wall = find_chances(strips, x_mm, y_mm, scatter_mm)
            for points, times in scores.items():
                total -= times * log(max(_LEAST_CHANCE, chances[points]))
            total -= beyond_panel * log(max(_LEAST_CHANCE, wall))
        return total

    reach_mm = min(panel.width_mm, panel.height_mm) / 4
    usual = log(max(_SMALLEST_MM, reach_mm))
    if hits:
        middle_x = sum(x for x, _ in hits) / len(hits)
        middle_y = sum(y for _, y in hits) / len(hits)
        starts = [(middle_x, middle_y, usual)]
    else:
        # Scores about an aim point can speak for the middle and for a ring alike: try both.
        starts = [(0.0, 0.0, usual), (2.0 * reach_mm, reach_mm / 2, usual)]
    steps = (reach_mm / 2, reach_mm / 3, 0.4)
    ends = [_find_lowest(cost, start, steps) for start in starts]
    x_mm, y_mm, log_scatter = min(ends, key=cost)
    return FittedSpread(
        count=count,
        scores_only=sum(scores.values()),
        beyond_panel=beyond_panel,
        offset_mm=hypot(x_mm, y_mm),
        offset_x_mm=x_mm if hits else None,
        offset_y_mm=y_mm if hits else None,
        scatter_mm=exp(log_scatter),
    )


def _find_lowest(cost: Callable[[Point], float], start: Point, steps: Point) -> Point:
    """Return the lowest point of a function by a simplex search (Nelder & Mead 1965)."""
    size = len(start)
    corners = [start] + [
        tuple(value + (steps[i] if i == j else 0.0) for i, value in enumerate(start))
        for j in range(size)
    ]
    simplex = sorted((cost(corner), corner) for corner in corners)
    for _ in range(_MOST_STEPS):
        best, worst = simplex[0], simplex[-1]
        if worst[0] - best[0] < _SETTLED:
            break
        middle = tuple(sum(corner[i] for _, corner in simplex[:-1]) / size for i in range(size))

        def toward(far: float, middle: Point = middle, worst: Point = worst[1]) -> Point:
            return tuple(m + far * (m - w) for m, w in zip(middle, worst, strict=True))

        turned = (cost(toward(1.0)), toward(1.0))
        if turned[0] < best[0]:
            longer = (cost(toward(2.0)), toward(2.0))
            simplex[-1] = min(turned, longer)
        elif turned[0] < simplex[-2][0]:
            simplex[-1] = turned
        else:
            near = 0.5 if turned[0] < worst[0] else -0.5
            shorter = (cost(toward(near)), toward(near))
            if shorter[0] < min(turned[0], worst[0]):
                simplex[-1] = shorter
            else:
                shrunk = [
                    tuple((b + c) / 2 for b, c in zip(best[1], corner, strict=True))
                    for _, corner in simplex[1:]
                ]
                simplex = [best, *((cost(corner), corner) for corner in shrunk)]
        simplex.sort()
    return simplex[0][1]
