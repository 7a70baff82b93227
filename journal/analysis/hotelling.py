"""Hotelling's T-square: a test whether the centre of many-sided measurements lies off a point.

In: n rows of p measures and the point to compare with. Out: T-square, its F value and exact p.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from journal.analysis.distributions import f_exceedance
from journal.analysis.equations import solve_equations


@dataclass(frozen=True, slots=True, kw_only=True)
class Hotelling:
    """The test of a centre against a point (Johnson & Wichern, chapter 5)."""

    t_square: float
    f_value: float
    p_value: float
    freedom_above: int
    freedom_below: int


def compare_centre(rows: Sequence[Sequence[float]], point: Sequence[float]) -> Hotelling | None:
    """Test the mean of `rows` (n by p) against `point` (p values, in the same units).

    None with no more rows than measures, or with rows that do not vary in some direction.
    Hotelling, Annals of Mathematical Statistics 2 (1931), 360-378, doi:10.1214/aoms/1177732979
    (from memory).
    """
    count, width = len(rows), len(point)
    if count <= width:
        return None
    means = [fsum(row[j] for row in rows) / count for j in range(width)]
    covariance = [
        [
            fsum((row[i] - means[i]) * (row[j] - means[j]) for row in rows) / (count - 1)
            for j in range(width)
        ]
        for i in range(width)
    ]
    gap = [means[j] - point[j] for j in range(width)]
    solved = solve_equations(covariance, gap)
    if solved is None:
        return None
    t_square = count * fsum(a * b for a, b in zip(gap, solved, strict=True))
    f_value = t_square * (count - width) / (width * (count - 1))
    return Hotelling(
        t_square=t_square,
        f_value=f_value,
        p_value=f_exceedance(f_value, width, count - width),
        freedom_above=width,
        freedom_below=count - width,
    )
