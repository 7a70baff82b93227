"""How far apart old and new are where they may scatter unequally, within students.

Comes in: the old and new values of each student. Goes out: the 95 % interval of the weighted
difference, with the scatter of each side taken by itself (Welch, Biometrika 34 (1947), 28-35; the
degrees of freedom by Satterthwaite, Biometrics Bulletin 2 (1946), 110-114).

Notes: the scatter of a side is that within students. Where a side has no student with two values,
it is how unlike the students' differences are.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from journal.analysis.distributions import student_t_reach
from journal.analysis.permutation.strata import Stratum

Interval = tuple[float, float]


def unequal_interval(strata: Sequence[Stratum]) -> Interval | None:
    """Return the interval in the unit of the values; None where no scatter can be told.

    `strata` hold both old and new values.
    """
    values = [value for stratum in strata for value in (*stratum.old, *stratum.new)]
    # Shares of the largest value, so that no square leaves the range of numbers.
    size = max(map(abs, values), default=0.0) or 1.0
    sides = [
        ([value / size for value in stratum.old], [value / size for value in stratum.new])
        for stratum in strata
    ]
    weights = [len(old) * len(new) / (len(old) + len(new)) for old, new in sides]
    total = math.fsum(weights)
    if not total:
        return None
    apart = [_mean(new) - _mean(old) for old, new in sides]
    difference = math.fsum(map(math.prod, zip(weights, apart, strict=True))) / total
    shares = [weight / total for weight in weights]
    variance, freedom = _within(sides, shares) or _between(apart, difference, shares)
    if not variance or not freedom:
        return None
    reach = student_t_reach(freedom) * math.sqrt(variance)
    return (difference - reach) * size, (difference + reach) * size


Sides = Sequence[tuple[Sequence[float], Sequence[float]]]


def _within(sides: Sides, shares: Sequence[float]) -> tuple[float, float] | None:
    """Return the variance of the difference by the scatter within students, and its freedom."""
    variances, freedoms = [], []
    for side in (0, 1):
        own = [both[side] for both in sides]
        freedom = sum(len(values) - 1 for values in own)
        if not freedom:
            return None
        squares = math.fsum(map(_squares_of, own))
        share = math.fsum(
            part * part / len(values) for part, values in zip(shares, own, strict=True)
        )
        variances.append(squares / freedom * share)
        freedoms.append(freedom)
    variance = math.fsum(variances)
    if not variance:
        return 0.0, 0.0
    below = math.fsum(own * own / freedom for own, freedom in zip(variances, freedoms, strict=True))
    return variance, variance * variance / below if below else math.inf


def _mean(values: Sequence[float]) -> float:
    return math.fsum(values) / len(values)


def _squares_of(values: Sequence[float]) -> float:
    mean = _mean(values)
    return math.fsum((value - mean) ** 2 for value in values)


def _between(
    apart: Sequence[float], difference: float, shares: Sequence[float]
) -> tuple[float, float]:
    """Return the same by how unlike the students' differences are."""
    count = len(apart)
    if count == 1:
        return 0.0, 0.0
    squares = math.fsum(
        (share * (own - difference)) ** 2 for own, share in zip(apart, shares, strict=True)
    )
    return squares * count / (count - 1), count - 1.0
