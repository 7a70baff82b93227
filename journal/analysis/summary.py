"""Summary of one set of trials: middle, spread, misfires, shape, outliers.

Comes in: values or records. Goes out: `Summary`, with None where too little is there to say it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from journal.analysis.descriptive import mad_of, mean_of, median_of, school_quartiles, sd_of
from journal.analysis.permutation.whole_numbers import to_whole
from journal.analysis.records import TrialRecord, measured_values, misfires_among
from journal.analysis.shapes import Shape, shape_of, striking_among

#: 97.5 % point of the standard normal distribution.
Z_95 = 1.959963984540054


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


def wilson_interval(count: int, n: int) -> tuple[float, float] | None:
    """Return the 95 % interval, in 0..1, of the share `count` of `n` trials; None for no trials.

    Wilson, Journal of the American Statistical Association 22 (1927), 209-212,
    doi:10.1080/01621459.1927.10502953 (from memory); method 3 of Newcombe, Statistics in Medicine
    17 (1998), 857-872.
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


def summarise(values: Sequence[float], scale: Sequence[float] = ()) -> Summary:
    """Return the figures of some finite values; `scale` holds all that there can be, if known."""
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
        shape=shape_of(values, scale),
        striking=striking,
        without_striking=summarise(rest, scale) if striking else None,
    )


def count_only(records: Sequence[TrialRecord]) -> Summary:
    """Return the counts of some records, and no figure."""
    values, misfires = measured_values(records), misfires_among(records)
    return replace(
        summarise(()),
        n=len(values),
        misfires=misfires,
        without_value=len(records) - len(values) - misfires,
    )


def summarise_trials(records: Sequence[TrialRecord], scale: Sequence[float] = ()) -> Summary:
    """Return the figures of some records: accuracy without misfires, reliability with them.

    `scale` holds all values that there can be, in rising order; empty where they are measured.
    """
    values = measured_values(records)
    misfires = misfires_among(records)
    return replace(
        summarise(values, scale),
        misfires=misfires,
        without_value=len(records) - len(values) - misfires,
        misfire_rate=misfires / len(records) if records else None,
        misfire_interval=wilson_interval(misfires, len(records)),
    )
