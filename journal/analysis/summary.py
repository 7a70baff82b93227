"""What one set of trials looks like: middle, spread, misfires, shape, striking values.

Comes in: values or records. Goes out: `Summary`, with None where too little is there to say it.
Quartiles are those taught in school (medians of the halves, the middle one left out when the count
is odd); `mad` is the mean absolute deviation from the mean.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from journal.analysis.records import TrialRecord, measured_values, misfires_among
from journal.analysis.whole_numbers import to_whole

#: 97.5 % point of the standard normal distribution.
Z_95 = 1.959963984540054
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """One set of trials in figures, in the unit of the outcome."""

    #: Trials with a value that counts.
    n: int
    mean: float | None
    median: float | None
    mad: float | None
    sd: float | None
    lowest: float | None
    highest: float | None
    range: float | None
    lower_quartile: float | None
    upper_quartile: float | None
    shape: Shape
    #: Far from the others by the 1.5 quartile range rule; flagged, never dropped.
    striking: tuple[float, ...]
    #: The same figures without the striking values; None where there are none.
    without_striking: Summary | None = None
    misfires: int = 0
    #: Trials that were no misfire and have no value (off the panel, or not a number).
    without_value: int = 0
    misfire_rate: float | None = None
    misfire_interval: tuple[float, float] | None = None

    @property
    def quartile_range(self) -> float | None:
        """Return the distance between the quartiles."""
        if self.lower_quartile is None or self.upper_quartile is None:
            return None
        return self.upper_quartile - self.lower_quartile


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
    products = sum(a * b for a, b in zip(deviations, deviations[1:], strict=False))
    return float(Fraction(products, squares))


def wilson_interval(count: int, n: int) -> tuple[float, float] | None:
    """Return the 95 % interval of a share (score interval); None for no trials.

    Wilson 1927; method 3 of Newcombe, Statistics in Medicine 17 (1998), 857-872.
    """
    if n == 0:
        return None
    share, z_squared = count / n, Z_95 * Z_95
    middle = share + z_squared / (2 * n)
    reach = Z_95 * math.sqrt(share * (1 - share) / n + z_squared / (4 * n * n))
    scale = 1 + z_squared / n
    lower = 0.0 if count == 0 else (middle - reach) / scale
    upper = 1.0 if count == n else (middle + reach) / scale
    return (lower, upper)


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


def summarise(values: Sequence[float]) -> Summary:
    """Return the figures of some finite values."""
    striking = striking_among(values)
    rest = [value for value in values if value not in striking]
    quartiles = school_quartiles(values)
    lowest, highest = min(values, default=None), max(values, default=None)
    ends = None if lowest is None or highest is None else to_whole((lowest, highest))
    return Summary(
        n=len(values),
        mean=mean_of(values),
        median=median_of(values),
        mad=mad_of(values),
        sd=sd_of(values),
        lowest=lowest,
        highest=highest,
        range=None if ends is None else ends.value_of(ends.numbers[1] - ends.numbers[0]),
        lower_quartile=None if quartiles is None else quartiles[0],
        upper_quartile=None if quartiles is None else quartiles[1],
        shape=shape_of(values),
        striking=striking,
        without_striking=summarise(rest) if striking else None,
    )


def summarise_trials(records: Sequence[TrialRecord]) -> Summary:
    """Return the figures of some records: accuracy without misfires, reliability with them."""
    values = measured_values(records)
    misfires = misfires_among(records)
    return replace(
        summarise(values),
        misfires=misfires,
        without_value=len(records) - len(values) - misfires,
        misfire_rate=misfires / len(records) if records else None,
        misfire_interval=wilson_interval(misfires, len(records)),
    )
