"""Zone map: a panel cut into strips, so that the probability of each score can be computed.

In: a panel. Out: for any circular normal scatter of hits, the probability of each number of
points on the panel, and of the wall around it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import ceil

from journal.analysis.distributions import normal_probability
from journal.domain.panels import Panel

#: Height of a strip and grain of a zone's outline.
GRAIN_MM = 10.0
#: Strips a side at most, so that a huge panel costs no more than a usual one.
_MOST_STRIPS = 120


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A level strip of the panel: x where the points change, and the points between."""

    bottom_mm: float
    top_mm: float
    edges_mm: tuple[float, ...]
    points: tuple[float, ...]


@lru_cache(maxsize=64)
def map_zones(panel: Panel) -> tuple[Strip, ...]:
    """Cut a panel into strips of equal points, by its own rule for marks on a line."""
    columns = min(_MOST_STRIPS, max(1, ceil(panel.width_mm / GRAIN_MM)))
    rows = min(_MOST_STRIPS, max(1, ceil(panel.height_mm / GRAIN_MM)))
    wide, tall = panel.width_mm / columns, panel.height_mm / rows
    strips = []
    for row in range(rows):
        bottom = panel.bottom_mm + row * tall
        points = [
            panel.points_at(panel.left_mm + (column + 0.5) * wide, bottom + tall / 2)
            for column in range(columns)
        ]
        changes = [0, *(i for i in range(1, columns) if points[i] != points[i - 1]), columns]
        strips.append(
            Strip(
                bottom_mm=bottom,
                top_mm=bottom + tall,
                edges_mm=tuple(panel.left_mm + change * wide for change in changes),
                points=tuple(points[change] for change in changes[:-1]),
            )
        )
    return tuple(strips)


def find_chances(
    strips: tuple[Strip, ...], x_mm: float, y_mm: float, scatter_mm: float
) -> tuple[dict[float, float], float]:
    """Return the probability of each number of points on the panel, and of the wall.

    `strips` come from `map_zones`. Hits scatter by `scatter_mm` (standard deviation) in x and y
    alike about (x_mm, y_mm).
    """
    chances: dict[float, float] = {}
    across: dict[tuple[float, ...], list[float]] = {}
    for strip in strips:
        tall = normal_probability((strip.top_mm - y_mm) / scatter_mm) - normal_probability(
            (strip.bottom_mm - y_mm) / scatter_mm
        )
        if strip.edges_mm not in across:
            below = [normal_probability((edge - x_mm) / scatter_mm) for edge in strip.edges_mm]
            across[strip.edges_mm] = [high - low for low, high in pairwise(below)]
        for points, wide in zip(strip.points, across[strip.edges_mm], strict=True):
            chances[points] = chances.get(points, 0.0) + tall * wide
    return chances, max(0.0, 1.0 - sum(chances.values()))
