"""Spread of hits: how far off the aim point they gather, and how far they scatter.

In: hits as (x, y) in mm about the aim point, x to the right and y up.
Out: offset, scatter, two radii with 95 % intervals, a test of the offset, and word keys.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import exp, fsum, hypot, isfinite, lgamma, sqrt

from journal.analysis.distributions import chi_square_quantile
from journal.analysis.hotelling import compare_centre

#: Half of a circular normal scatter lies within this many sigmas: sqrt(2 ln 2).
HALF_RADIUS_PER_SIGMA = 1.1774100225154747
#: 95 % lie within this many sigmas: sqrt(-2 ln .05).
WIDE_RADIUS_PER_SIGMA = 2.447746830680816
#: No finding from fewer hits.
FEWEST_HITS = 4
#: The offset is named as one only when chance alone is this rare.
OFFSET_LEVEL = 0.05
#: Eight directions: a side is named when it carries more than sin 22.5 degrees of the offset.
_SIDE_SHARE = 0.3826834323650898

Hit = tuple[float, float]
Interval = tuple[float, float]


class Tightness(StrEnum):
    """How far the hits lie from each other, judged against the panel."""

    TIGHT = "tight"
    WIDE = "wide"


class Side(StrEnum):
    """Where the hits gather, seen from the aim point."""

    LOW = "low"
    HIGH = "high"
    LEFT = "left"
    RIGHT = "right"
    CENTRED = "centred"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """Where hits gather and how they scatter; None where too few hits can say it."""

    count: int
    offset_x_mm: float
    offset_y_mm: float
    offset_mm: float
    #: Hotelling's T-square of the offset against the aim point, and its exact p.
    t_square: float | None
    offset_p_value: float | None
    #: Unbiased sigma of a circular normal scatter, the same in x and y.
    scatter_mm: float | None
    scatter_interval_mm: Interval | None
    #: Holds half of the hits about their own middle.
    half_radius_mm: float | None
    half_radius_interval_mm: Interval | None
    #: Holds 95 % of them.
    wide_radius_mm: float | None
    wide_radius_interval_mm: Interval | None

    @property
    def enough(self) -> bool:
        """Tell whether there are enough hits for words."""
        return self.count >= FEWEST_HITS


@dataclass(frozen=True, slots=True, kw_only=True)
class ClusterWords:
    """Keys of the words for a cluster, such as tight, low, left; content has the words."""

    #: None where the panel's size is unknown or the hits are too few.
    tightness: Tightness | None
    #: One or two sides, or CENTRED where the offset may be chance; empty with too few hits.
    sides: tuple[Side, ...]


def spread_of(hits: Sequence[Hit]) -> Spread | None:
    """Work out the spread of hits; None without a usable hit.

    Hits with a coordinate that is not finite are left out. Scatter is the unbiased Rayleigh
    estimate, its interval chi-square with 2 (n - 1) degrees of freedom.
    """
    usable = [hit for hit in hits if isfinite(hit[0]) and isfinite(hit[1])]
    count = len(usable)
    if not count:
        return None
    x_mm = fsum(x / count for x, _ in usable)
    y_mm = fsum(y / count for _, y in usable)
    squares = sum((x - x_mm) * (x - x_mm) + (y - y_mm) * (y - y_mm) for x, y in usable)
    if not isfinite(squares):
        return None
    scatter = interval = None
    if count > 1:
        freedom = 2 * (count - 1)
        scatter = sqrt(squares / freedom) / mean_root_factor(freedom + 1)
        interval = (
            sqrt(squares / chi_square_quantile(0.975, freedom)),
            sqrt(squares / chi_square_quantile(0.025, freedom)),
        )
    test = compare_centre(usable, (0.0, 0.0))
    return Spread(
        count=count,
        offset_x_mm=x_mm,
        offset_y_mm=y_mm,
        offset_mm=hypot(x_mm, y_mm),
        t_square=None if test is None else test.t_square,
        offset_p_value=None if test is None else test.p_value,
        scatter_mm=scatter,
        scatter_interval_mm=interval,
        half_radius_mm=_scale(scatter, HALF_RADIUS_PER_SIGMA),
        half_radius_interval_mm=_scale_interval(interval, HALF_RADIUS_PER_SIGMA),
        wide_radius_mm=_scale(scatter, WIDE_RADIUS_PER_SIGMA),
        wide_radius_interval_mm=_scale_interval(interval, WIDE_RADIUS_PER_SIGMA),
    )


def mean_root_factor(count: int) -> float:
    """Return c4, the mean of a sample sd of `count` normal values in units of sigma."""
    half = count / 2.0
    return sqrt(2.0 / (count - 1)) * exp(lgamma(half) - lgamma(half - 0.5))


def describe_cluster(spread: Spread, half_side_mm: float | None = None) -> ClusterWords:
    """Choose the word keys for a spread.

    `half_side_mm` is half the shorter side of the panel: hits are tight when the circle that
    holds 95 % of them would fit on the panel, wide when not (common practice, no source).
    A side is named only when the offset is more than chance would often do.
    """
    if not spread.enough:
        return ClusterWords(tightness=None, sides=())
    tightness = None
    if half_side_mm is not None and spread.wide_radius_mm is not None:
        fits = spread.wide_radius_mm <= half_side_mm
        tightness = Tightness.TIGHT if fits else Tightness.WIDE
    return ClusterWords(tightness=tightness, sides=_name_sides(spread))


def _name_sides(spread: Spread) -> tuple[Side, ...]:
    # Hits on one spot leave no test, yet where they are is plain.
    on_one_spot = spread.scatter_mm == 0.0 and spread.offset_mm > 0.0
    if not on_one_spot and not _is_off_centre(spread):
        return (Side.CENTRED,)
    sides = []
    if abs(spread.offset_y_mm) > _SIDE_SHARE * spread.offset_mm:
        sides.append(Side.HIGH if spread.offset_y_mm > 0 else Side.LOW)
    if abs(spread.offset_x_mm) > _SIDE_SHARE * spread.offset_mm:
        sides.append(Side.RIGHT if spread.offset_x_mm > 0 else Side.LEFT)
    return tuple(sides)


def _is_off_centre(spread: Spread) -> bool:
    """Tell whether the offset is more than chance would often do.

    The test alone would call a sliver of an offset one where hits vary along a single line, so
    the offset must also leave the circle in which 95 % of such middles lie.
    """
    if spread.offset_p_value is None or spread.wide_radius_mm is None:
        return False
    reach_mm = spread.wide_radius_mm / sqrt(spread.count)
    return spread.offset_p_value <= OFFSET_LEVEL and spread.offset_mm > reach_mm


def _scale(value: float | None, factor: float) -> float | None:
    return None if value is None else value * factor


def _scale_interval(interval: Interval | None, factor: float) -> Interval | None:
    return None if interval is None else (interval[0] * factor, interval[1] * factor)
