"""Dominance: how often the new one is ahead, over all pairs of one old and one new trial.

Comes in: old and new values. Goes out: Cliff's delta, the Hodges-Lehmann difference, and counts of
pairs within students.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from journal.analysis.permutation.strata import Stratum
from journal.analysis.permutation.whole_numbers import to_whole
from journal.domain.outcomes import Direction

#: Up to this many pairs are written out for the middle one; beyond, it is searched for.
MOST_PAIRS = 100_000


@dataclass(frozen=True, slots=True, kw_only=True)
class PairCounts:
    """Pairs of an old and a new trial of the same student, by which of the two did better."""

    leads: int
    ties: int
    trails: int

    @property
    def count(self) -> int:
        """Return how many pairs there are."""
        return self.leads + self.ties + self.trails


def count_pairs(strata: Sequence[Stratum], direction: Direction) -> PairCounts:
    """Count the pairs within students in which the new one leads, ties or trails."""
    leads = ties = count = 0
    for stratum in strata:
        old = sorted(direction.merit(value) for value in stratum.old)
        for value in stratum.new:
            below = bisect_left(old, direction.merit(value))
            leads += below
            ties += bisect_right(old, direction.merit(value)) - below
        count += len(old) * len(stratum.new)
    return PairCounts(leads=leads, ties=ties, trails=count - leads - ties)


def cliff_delta(old: Sequence[float], new: Sequence[float]) -> float | None:
    """Return the share of pairs with the new value higher, minus the share with it lower.

    From -1 to 1; None where a side is empty. Cliff, Psychological Bulletin 114 (1993), 494-509,
    doi:10.1037/0033-2909.114.3.494 (from memory).
    """
    if not old or not new:
        return None
    ordered = sorted(old)
    ahead = sum(
        bisect_left(ordered, value) + bisect_right(ordered, value) - len(ordered) for value in new
    )
    return ahead / (len(old) * len(new))


def hodges_lehmann(old: Sequence[float], new: Sequence[float]) -> float | None:
    """Return the median of all differences new minus old, in the unit of the values.

    None where a side is empty. Hodges & Lehmann, Annals of Mathematical Statistics 34 (1963),
    598-611, doi:10.1214/aoms/1177704172 (from memory).
    """
    if not old or not new:
        return None
    if len(old) * len(new) > MOST_PAIRS:
        return _searched_middle(sorted(old), sorted(new))
    whole = to_whole((*old, *new))
    lows, highs = whole.numbers[: len(old)], whole.numbers[len(old) :]
    differences = sorted(high - low for high in highs for low in lows)
    half, odd = divmod(len(differences), 2)
    middle = differences[half] if odd else Fraction(differences[half - 1] + differences[half], 2)
    return whole.value_of(middle)


def _searched_middle(old: Sequence[float], new: Sequence[float]) -> float:
    """Halve the range of the differences until the middle one is known to 14 digits."""
    low, high = new[0] - old[-1], new[-1] - old[0]
    half = len(old) * len(new) / 2
    for _ in range(60):
        middle = (low + high) / 2
        at_most = sum(len(old) - bisect_left(old, value - middle) for value in new)
        if at_most >= half:
            high = middle
        else:
            low = middle
        if math.isclose(low, high, rel_tol=1e-14):
            break
    return high
