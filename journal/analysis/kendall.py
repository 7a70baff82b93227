"""Kendall's rank correlation of two measures.

Comes in: pairs of figures. Goes out: tau-b, its two-sided p-value, and how that was had.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right, insort
from collections import Counter
from collections.abc import Sequence
from itertools import groupby

from journal.analysis.permutation.inversions import inversion_ways
from journal.analysis.permutation.permute import Method

#: Up to this many pairs the p-value is counted out.
MOST_PAIRS = 4_000


def kendall(points: Sequence[tuple[float, float]]) -> tuple[float, float, Method]:
    """Return tau-b of `points` (x, y), its two-sided p-value, and how the p-value was computed.

    Exact where only one side has ties; else the normal distribution with both sides' ties in the
    variance (Kendall, Rank Correlation Methods, 1970, section 4.4). Both sides must vary.
    """
    n = len(points)
    score = _score(points)
    x_ties = list(Counter(x for x, _ in points).values())
    y_ties = list(Counter(y for _, y in points).values())
    pairs = math.comb(n, 2)
    x_pairs = pairs - sum(math.comb(count, 2) for count in x_ties)
    y_pairs = pairs - sum(math.comb(count, 2) for count in y_ties)
    tau = score / math.sqrt(x_pairs * y_pairs)
    if min(len(x_ties), len(y_ties)) < n and max(len(x_ties), len(y_ties)) < n:
        return tau, _normal_p(score, n, x_ties, y_ties), Method.NORMAL
    if pairs > MOST_PAIRS:
        return tau, _normal_p(score, n, x_ties, y_ties), Method.NORMAL
    ways = inversion_ways(min(x_ties, y_ties, key=len))
    outer = sum(ways[: (min(x_pairs, y_pairs) - abs(score)) // 2 + 1])
    return tau, (1.0 if score == 0 else 2 * outer / sum(ways)), Method.EXACT


def _score(points: Sequence[tuple[float, float]]) -> int:
    """Return Kendall's S: pairs that go up together minus pairs that go opposite ways."""
    score = 0
    lower: list[float] = []
    for _, group in groupby(sorted(points), key=lambda point: point[0]):
        outcomes = [outcome for _, outcome in group]
        for outcome in outcomes:
            score += bisect_left(lower, outcome) - (len(lower) - bisect_right(lower, outcome))
        for outcome in outcomes:
            insort(lower, outcome)
    return score


def _normal_p(score: int, n: int, x_ties: Sequence[int], y_ties: Sequence[int]) -> float:
    def cubic(count: int) -> int:
        return count * (count - 1) * (2 * count + 5)

    def pairs(counts: Sequence[int]) -> int:
        return sum(count * (count - 1) for count in counts)

    def triples(counts: Sequence[int]) -> int:
        return sum(count * (count - 1) * (count - 2) for count in counts)

    variance = (cubic(n) - sum(map(cubic, x_ties)) - sum(map(cubic, y_ties))) / 18
    variance += pairs(x_ties) * pairs(y_ties) / (2 * n * (n - 1))
    variance += triples(x_ties) * triples(y_ties) / (9 * n * (n - 1) * (n - 2))
    return math.erfc(abs(score) / math.sqrt(2 * variance))
