"""The permutation test by writing out every deal in exact fractions: the plainest reference."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations

from journal.analysis.permutation.strata import Stratum


def brute_share(strata: Sequence[Stratum], shift: Fraction = Fraction(0)) -> Fraction:
    """Return the two-sided p-value of the sum of the new values, each lowered by `shift`."""
    deviations, seen = [Fraction(0)], Fraction(0)
    for stratum in strata:
        old = [Fraction(repr(value)) for value in stratum.old]
        new = [Fraction(repr(value)) - shift for value in stratum.new]
        pool, count = old + new, len(new)
        mean = sum(pool) * count / len(pool)
        deviations = [
            deviation + sum(picked) - mean
            for deviation in deviations
            for picked in combinations(pool, count)
        ]
        seen += sum(new) - mean
    return Fraction(sum(abs(deviation) >= abs(seen) for deviation in deviations), len(deviations))
