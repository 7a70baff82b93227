"""An amount (paint, bands, length, mass) against the outcome: trend, and a band in the middle.

Comes in: records with an amount. Goes out: Theil's line, Kendall's tau-b with its p-value, and
whether the middle amounts do best (too little, just right, too much) by comparing three bands.
No curve is drawn through a few points, and nothing is said from fewer than seven.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import groupby

from journal.analysis.descriptive import mean_of
from journal.analysis.kendall import kendall
from journal.analysis.permutation.permute import Method, permute
from journal.analysis.permutation.strata import Stratum
from journal.analysis.records import TrialRecord, by_revision
from journal.analysis.theil_line import theil_line
from journal.analysis.verdicts import LEVEL, holm
from journal.domain.outcomes import MORE_IS_BETTER, Direction

LEAST_TRIALS = 7
LEAST_AMOUNTS = 5
#: Trials a band needs before it is compared.
LEAST_IN_BAND = 3


class CannotSay(StrEnum):
    """Why nothing is said about the amount."""

    TOO_FEW_TRIALS = "too_few_trials"
    TOO_FEW_AMOUNTS = "too_few_amounts"
    ALL_OUTCOMES_SAME = "all_outcomes_same"
    #: Working it out failed.
    NOT_WORKED_OUT = "not_worked_out"


class Trend(StrEnum):
    """Where the outcome goes with more of it."""

    RISES = "rises"
    FALLS = "falls"
    NO_CLEAR_TREND = "no_clear_trend"


class Peak(StrEnum):
    """Whether the middle amounts do best."""

    PEAK = "peak"
    #: The middle band is ahead of both, but not clearly.
    PERHAPS = "perhaps"
    NO_PEAK = "no_peak"
    TOO_FEW_IN_BAND = "too_few_in_band"


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """Trials with neighbouring amounts."""

    least: float
    most: float
    n: int
    mean: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AmountFinding:
    """What the amount has to do with the outcome; `cannot_say` empties everything else."""

    n: int
    distinct: int
    cannot_say: CannotSay | None = None
    #: In units of the outcome a unit of the amount, and at amount zero.
    slope: float | None = None
    height: float | None = None
    tau: float | None = None
    p_value: float | None = None
    method: Method | None = None
    trend: Trend | None = None
    bands: tuple[Band, ...] = ()
    peak: Peak | None = None


#: What stands for an amount that could not be looked at.
NOT_WORKED_OUT = AmountFinding(n=0, distinct=0, cannot_say=CannotSay.NOT_WORKED_OUT)


def find_amount(
    records: Sequence[TrialRecord], direction: Direction = MORE_IS_BETTER
) -> AmountFinding:
    """Set the amounts of some trials against their outcomes."""
    points = [
        (record.amount, value)
        for record in records
        if record.amount is not None
        and math.isfinite(record.amount)
        and (value := record.measured) is not None
    ]
    return find_amount_of(points, direction)


def find_amount_within(
    records: Sequence[TrialRecord], direction: Direction = MORE_IS_BETTER
) -> tuple[str, tuple[TrialRecord, ...], AmountFinding]:
    """Set amounts against outcomes within the revision with most of them, so with one device.

    `records` are those of all revisions, which are taken together, named "", only where no revision
    alone has enough. Returns the revision, the records looked at, and what was found.
    """
    with_amount = [
        record
        for record in records
        if record.amount is not None
        and math.isfinite(record.amount)
        and record.measured is not None
    ]
    revisions = by_revision(with_amount)
    most = max(revisions, key=lambda name: len(revisions[name]), default="")
    own = tuple(revisions.get(most, ()))
    found = find_amount(own, direction)
    if found.cannot_say is None or len(own) == len(with_amount):
        return most, own, found
    amounts = {record.amount for record in with_amount}
    # The middle of so few different amounts would be compared over every trial there is.
    if len(with_amount) >= LEAST_TRIALS and len(amounts) >= LEAST_AMOUNTS:
        return "", tuple(with_amount), find_amount(with_amount, direction)
    return most, own, found


def find_amount_of(
    points: Sequence[tuple[float, float]], direction: Direction = MORE_IS_BETTER
) -> AmountFinding:
    """Set amounts against outcomes, given as `points` (amount, outcome) in their own units."""
    distinct = len({amount for amount, _ in points})
    reason = _reason_not_to(points, distinct)
    if reason is not None:
        return AmountFinding(n=len(points), distinct=distinct, cannot_say=reason)
    line = theil_line(points)
    tau, p_value, method = kendall(points)
    bands = _bands(points)
    return AmountFinding(
        n=len(points),
        distinct=distinct,
        slope=None if line is None else line[0],
        height=None if line is None else line[1],
        tau=tau,
        p_value=p_value,
        method=method,
        trend=_trend(tau, p_value),
        bands=tuple(_described(band) for band in bands),
        peak=_peak(bands, direction),
    )


def _reason_not_to(points: Sequence[tuple[float, float]], distinct: int) -> CannotSay | None:
    if len(points) < LEAST_TRIALS:
        return CannotSay.TOO_FEW_TRIALS
    if distinct < LEAST_AMOUNTS:
        return CannotSay.TOO_FEW_AMOUNTS
    if len({outcome for _, outcome in points}) == 1:
        return CannotSay.ALL_OUTCOMES_SAME
    return None


def _trend(tau: float, p_value: float) -> Trend:
    if p_value > LEVEL:
        return Trend.NO_CLEAR_TREND
    return Trend.RISES if tau > 0 else Trend.FALLS


def _bands(points: Sequence[tuple[float, float]]) -> list[list[tuple[float, float]]]:
    """Part the points into three bands of amounts, as even as equal amounts allow."""
    bands: list[list[tuple[float, float]]] = [[], [], []]
    seen = 0
    for _, group in groupby(sorted(points), key=lambda point: point[0]):
        same = list(group)
        band = int(3 * (seen + len(same) / 2) / len(points))
        bands[min(band, 2)] += same
        seen += len(same)
    return [band for band in bands if band]


def _described(band: Sequence[tuple[float, float]]) -> Band:
    return Band(
        least=min(amount for amount, _ in band),
        most=max(amount for amount, _ in band),
        n=len(band),
        mean=mean_of([outcome for _, outcome in band]) or 0.0,
    )


def _peak(bands: Sequence[Sequence[tuple[float, float]]], direction: Direction) -> Peak:
    """Compare the middle band with each outer one, adjusted for being two comparisons."""
    if len(bands) < 3 or min(len(band) for band in bands) < LEAST_IN_BAND:  # noqa: PLR2004
        return Peak.TOO_FEW_IN_BAND
    low, middle, high = (tuple(direction.merit(outcome) for _, outcome in band) for band in bands)
    tests = [permute([Stratum(outer, middle)]) for outer in (low, high)]
    if any(test is None or test.difference <= 0 for test in tests):
        return Peak.NO_PEAK
    adjusted = holm([test.p_value for test in tests if test is not None])
    return Peak.PEAK if max(adjusted) <= LEVEL else Peak.PERHAPS
