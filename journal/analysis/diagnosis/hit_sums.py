"""One student's hits in sums: all that closed forms need, with strays set apart.

In: hits (x, y, load) in units, loads of the hits beyond the panel. Out: `HitSums`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import exp, pi

from journal.analysis.diagnosis.causes import STRAY, STRAY_SD

#: A stray is looked for among at least so many trials of a student, and only where one hit makes
#: up more than this share of the sum of squares about the mean (both set by hand).
FEWEST_FOR_STRAY = 4
STANDS_OUT = 0.5
#: The probability that a stray lands beyond the panel. Set by hand: a normal variable with
#: `STRAY_SD` (3 units) leaves a panel of 6 x 6 units in 1 - .683^2 = .53 of cases.
STRAY_BEYOND = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class HitSums:
    """One student's hits on the panel in sums, and the loads of those beyond it."""

    n: int
    mean_x: float = 0.0
    mean_y: float = 0.0
    mean_load: float = 0.0
    #: Squares about the mean: both axes, height with load, load.
    squares: float = 0.0
    with_load: float = 0.0
    load_squares: float = 0.0
    #: Load and number of the hits beyond the panel.
    beyond: tuple[tuple[float, int], ...] = ()
    #: The same without one that may have gone astray, and how likely such a stray is.
    without_stray: tuple[tuple[HitSums, float], ...] = ()


def sum_hits(hits: Sequence[tuple[float, float, float]], beyond: Sequence[float]) -> HitSums:
    """Return the sums of one student's hits (x, y, load), and of the loads of those beyond.

    Where one hit lies far from all the others, or one alone went beyond, it may be a stray.
    """
    sums = _sum_all(hits, beyond)
    count = len(hits) + len(beyond)
    if count < FEWEST_FOR_STRAY:
        return sums
    strays = []
    away = [(hit[0] - sums.mean_x) ** 2 + (hit[1] - sums.mean_y) ** 2 for hit in hits]
    if len(hits) >= FEWEST_FOR_STRAY and max(away) > STANDS_OUT * sums.squares:
        far = away.index(max(away))
        density = exp(-(hits[far][0] ** 2 + hits[far][1] ** 2) / (2 * STRAY_SD**2)) / (
            2 * pi * STRAY_SD**2
        )
        rest = _sum_all([*hits[:far], *hits[far + 1 :]], beyond)
        strays.append((rest, STRAY * count * density))
    if len(beyond) == 1:
        strays.append((_sum_all(hits, ()), STRAY * count * STRAY_BEYOND))
    return replace(sums, without_stray=tuple(strays))


def _sum_all(hits: Sequence[tuple[float, float, float]], beyond: Sequence[float]) -> HitSums:
    counted = tuple((load, beyond.count(load)) for load in sorted(set(beyond)))
    n = len(hits)
    if n == 0:
        return HitSums(n=0, beyond=counted)
    x, y, load = (sum(hit[axis] for hit in hits) / n for axis in range(3))
    return HitSums(
        n=n,
        mean_x=x,
        mean_y=y,
        mean_load=load,
        squares=sum((hit[0] - x) ** 2 + (hit[1] - y) ** 2 for hit in hits),
        with_load=sum((hit[1] - y) * (hit[2] - load) for hit in hits),
        load_squares=sum((hit[2] - load) ** 2 for hit in hits),
        beyond=counted,
    )
