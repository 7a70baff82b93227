"""The shape of a dot plot, and its outliers.

Comes in: finite values. Goes out: `Shape`, a key; striking values, flagged and never dropped.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import StrEnum
from itertools import pairwise

from journal.analysis.descriptive import mean_of, median_of, school_quartiles, sd_of

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
    #: Two heaps next to each other, or too few for heaps: nothing is said.
    NO_NAME = "no_name"


def striking_among(values: Sequence[float]) -> tuple[float, ...]:
    """Return the values far outside the quartiles, in their order; none among fewer than five."""
    quartiles = school_quartiles(values)
    if quartiles is None or len(values) < LEAST_FOR_STRIKING:
        return ()
    lower, upper = quartiles
    # Where the middle half is one value, any other one would be far from it.
    if lower == upper:
        return ()
    reach = STRIKING_REACH * (upper - lower)
    return tuple(value for value in values if value < lower - reach or value > upper + reach)


def shape_of(values: Sequence[float], scale: Sequence[float] = ()) -> Shape:
    """Name the shape of a dot plot of the values.

    `scale` holds all values there can be, where they are known, such as the points of zones.
    """
    if len(values) < LEAST_FOR_SHAPE:
        return Shape.TOO_FEW
    mean, median, sd = mean_of(values), median_of(values), sd_of(values)
    if not sd or mean is None or median is None:
        return Shape.ALL_SAME
    ordered = sorted(values)
    split = _find_split(ordered)
    if split is not None:
        heaps = len(values) >= LEAST_FOR_HEAPS and _has_gap(ordered, split, scale)
        return Shape.TWO_HEAPS if heaps else Shape.NO_NAME
    lean = (mean - median) / sd
    if abs(lean) < LOPSIDED_PART:
        return Shape.EVEN
    return Shape.LOPSIDED_HIGH if lean > 0 else Shape.LOPSIDED_LOW


def _find_split(ordered: Sequence[float]) -> int | None:
    """Return after how many values one split explains nearly all the differences; else None.

    At least a quarter of the values lies on each side.
    """
    n = len(ordered)
    mean = math.fsum(ordered) / n
    squares = math.fsum((value - mean) ** 2 for value in ordered)
    below, explained, split = 0.0, 0.0, None
    for count, value in enumerate(ordered[:-1], start=1):
        below += value - mean
        if n <= 4 * count <= 3 * n:
            share = below * below * n / (count * (n - count))
            if share > explained:
                explained, split = share, count
    return split if explained >= HEAPS_EXPLAIN * squares else None


def _has_gap(ordered: Sequence[float], split: int, scale: Sequence[float]) -> bool:
    """Tell whether the heaps have room between them: neighbouring scores have none.

    On a known scale a value that nobody got lies between; else the gap is more than one step, a
    step being 1, or the smallest distance of two values where that is less.
    """
    low, high = ordered[split - 1], ordered[split]
    if scale:
        return any(low < value < high for value in scale)
    inner = [
        after - before
        for heap in (ordered[:split], ordered[split:])
        for before, after in pairwise(heap)
        if after > before
    ]
    step = min([1.0, high - low, *inner])
    return high - low > max([step, *inner])
