"""What a dot plot of some values looks like, and which of them stand far out.

Comes in: finite values. Goes out: `Shape`, a key; striking values, flagged and never dropped.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import StrEnum

from journal.analysis.figures import mean_of, median_of, school_quartiles, sd_of

#: A value further than this many quartile ranges outside the quartiles is striking.
STRIKING_REACH = 1.5
LEAST_FOR_STRIKING = 5
LEAST_FOR_SHAPE = 6
LEAST_FOR_HEAPS = 10
#: Splitting the values in two explains 64 % of the squares of a normal distribution and 75 % of an
#: even one; two real heaps explain more.
HEAPS_EXPLAIN = 0.87
#: Mean and median further apart than this part of an sd: lopsided. Common practice, no source.
LOPSIDED_PART = 0.3


class Shape(StrEnum):
    """What a dot plot of the values looks like."""

    TOO_FEW = "too_few"
    ALL_SAME = "all_same"
    TWO_HEAPS = "two_heaps"
    #: Most are high, a few trail off low.
    LOPSIDED_LOW = "lopsided_low"
    #: Most are low, a few trail off high.
    LOPSIDED_HIGH = "lopsided_high"
    EVEN = "even"


def striking_among(values: Sequence[float]) -> tuple[float, ...]:
    """Return the values far outside the quartiles, in their order; none among fewer than five."""
    quartiles = school_quartiles(values)
    if quartiles is None or len(values) < LEAST_FOR_STRIKING:
        return ()
    lower, upper = quartiles
    reach = STRIKING_REACH * (upper - lower)
    return tuple(value for value in values if value < lower - reach or value > upper + reach)


def shape_of(values: Sequence[float]) -> Shape:
    """Name the shape of a dot plot of the values."""
    if len(values) < LEAST_FOR_SHAPE:
        return Shape.TOO_FEW
    mean, median, sd = mean_of(values), median_of(values), sd_of(values)
    if not sd or mean is None or median is None:
        return Shape.ALL_SAME
    if _in_two_heaps(sorted(values)):
        return Shape.TWO_HEAPS
    lean = (mean - median) / sd
    if abs(lean) < LOPSIDED_PART:
        return Shape.EVEN
    return Shape.LOPSIDED_HIGH if lean > 0 else Shape.LOPSIDED_LOW


def _in_two_heaps(ordered: Sequence[float]) -> bool:
    """Tell whether one split with a quarter on each side explains nearly all the differences."""
    n = len(ordered)
    if n < LEAST_FOR_HEAPS:
        return False
    mean = math.fsum(ordered) / n
    squares = math.fsum((value - mean) ** 2 for value in ordered)
    below, explained = 0.0, 0.0
    for count, value in enumerate(ordered[:-1], start=1):
        below += value - mean
        if n <= 4 * count <= 3 * n:
            explained = max(explained, below * below * n / (count * (n - count)))
    return explained >= HEAPS_EXPLAIN * squares
