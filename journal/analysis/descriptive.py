"""Descriptive statistics: mean, median, spread, quartiles, lag-1 autocorrelation.

Comes in: finite values. Goes out: one figure each, rounded once, None for too few values.
Quartiles are those taught in school (medians of the halves, the middle value left out when the
count is odd); the mean absolute deviation is taken from the mean.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from journal.analysis.permutation.whole_numbers import to_whole


def mean_of(values: Sequence[float]) -> float | None:
    """Return the mean, rounded once; None for no values."""
    if not values:
        return None
    whole = to_whole(values)
    return float(Fraction(sum(whole.numbers), len(values) * whole.per_one))


def median_of(values: Sequence[float]) -> float | None:
    """Return the median; None for no values."""
    if not values:
        return None
    ordered = sorted(values)
    half = len(ordered) // 2
    if len(ordered) % 2:
        return ordered[half]
    return mean_of(ordered[half - 1 : half + 1])


def sd_of(values: Sequence[float]) -> float | None:
    """Return the standard deviation with n - 1; None for fewer than two values."""
    n = len(values)
    if n < 2:  # noqa: PLR2004
        return None
    whole = to_whole(values)
    squares = n * sum(number * number for number in whole.numbers) - sum(whole.numbers) ** 2
    return math.sqrt(Fraction(squares, n * (n - 1) * whole.per_one**2))


def mad_of(values: Sequence[float]) -> float | None:
    """Return the mean absolute deviation from the mean; None for no values."""
    n = len(values)
    if n == 0:
        return None
    whole = to_whole(values)
    total = sum(whole.numbers)
    deviations = sum(abs(n * number - total) for number in whole.numbers)
    return float(Fraction(deviations, n * n * whole.per_one))


def school_quartiles(values: Sequence[float]) -> tuple[float, float] | None:
    """Return the medians of the lower and the upper half; None for fewer than two values.

    The middle value belongs to neither half: 1..9 gives 2.5 and 7.5.
    """
    half = len(values) // 2
    ordered = sorted(values)
    lower, upper = median_of(ordered[:half]), median_of(ordered[len(ordered) - half :])
    return None if lower is None or upper is None else (lower, upper)


def lag_one_of(values: Sequence[float]) -> float | None:
    """Return how much each value resembles the one before it, from -1 to 1.

    The lag-1 autocorrelation about the common mean; None where all values are the same.
    """
    n = len(values)
    whole = to_whole(values)
    total = sum(whole.numbers)
    deviations = [n * number - total for number in whole.numbers]
    squares = sum(deviation * deviation for deviation in deviations)
    if squares == 0:
        return None
    products = sum(a * b for a, b in pairwise(deviations))
    return float(Fraction(products, squares))
