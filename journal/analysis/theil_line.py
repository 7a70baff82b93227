"""The Theil-Sen line through a scatter: a few outliers cannot tilt it.

Comes in: points, in one set or one set for each student. Goes out: Theil's slope and line.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from journal.analysis.descriptive import median_of

#: Beyond this many pairs each point is joined only with the one half a set further on
#: (Theil's incomplete method).
MOST_PAIRS = 200_000

Points = Sequence[tuple[float, float]]


def theil_slope(sets: Sequence[Points]) -> float | None:
    """Return the median of the slopes between any two points (x, y) of the same set in `sets`.

    None where no two points of a set differ in x. Theil 1950; Sen, Journal of the American
    Statistical Association 63 (1968), 1379-1389, doi:10.1080/01621459.1968.10480934 (from memory).
    """
    every = sum(math.comb(len(points), 2) for points in sets) <= MOST_PAIRS
    slopes = [
        (b[1] - a[1]) / (b[0] - a[0])
        for points in sets
        for a, b in (_pairs(points) if every else _half_way_pairs(points))
        if a[0] != b[0]
    ]
    return median_of([slope for slope in slopes if math.isfinite(slope)])


def theil_line(points: Points) -> tuple[float, float] | None:
    """Return (slope, height at zero) of the line; None where all points have one x."""
    slope = theil_slope([points])
    height = None if slope is None else median_of([y - slope * x for x, y in points])
    return None if slope is None or height is None else (slope, height)


def _pairs(points: Points) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    for place, point in enumerate(points):
        for other in points[place + 1 :]:
            yield point, other


def _half_way_pairs(points: Points) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    ordered = sorted(points)
    half = len(ordered) // 2
    return zip(ordered[:half], ordered[len(ordered) - half :], strict=True)
