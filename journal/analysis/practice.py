"""Are they still getting better at it? The trend within students over one revision's trials.

Comes in: records of one revision, or the values of each student in order. Goes out: Kendall's
tau-b, its two-sided p-value (S summed over the students, each a stratum), and the middle slope a
trial.

Notes: a trend that is not found does not rule practice out; only turns (A B B A) do.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from journal.analysis.permutation.inversions import inversion_ways, joined_ways
from journal.analysis.permutation.permute import Method
from journal.analysis.records import TrialRecord, by_revision, by_student, in_order
from journal.analysis.theil_line import theil_slope

#: Up to this many pairs in all the null distribution is counted; beyond, it is as good as normal.
MOST_PAIRS = 4_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Practice:
    """The trend within students; None where there is nothing to order."""

    revision: str = ""
    n: int
    #: Kendall's S: pairs that rise minus pairs that fall, summed over the students.
    score: int
    tau: float | None
    #: Two-sided.
    p_value: float | None
    #: One-sided, for a rise.
    rising_p: float | None
    #: In the unit of the outcome, for each trial of a student.
    slope: float | None
    method: Method | None


#: Where nothing can be said.
NO_PRACTICE = Practice(n=0, score=0, tau=None, p_value=None, rising_p=None, slope=None, method=None)

#: One student's (number of the trial, value) in order.
Course = Sequence[tuple[float, float]]


def practice_over(records: Sequence[TrialRecord]) -> Practice:
    """Return the trend in the revision with most values, the earlier one where two are level.

    A misfire is one of the student's trials, so it counts on the slope's axis, without a value.
    """
    revisions = by_revision(records)
    counts = {
        name: sum(1 for record in own if record.measured is not None)
        for name, own in revisions.items()
    }
    longest = max(counts, key=counts.__getitem__, default="")
    courses = [
        [
            (float(number), value)
            for number, record in enumerate(in_order(own), start=1)
            if (value := record.measured) is not None
        ]
        for own in by_student(revisions.get(longest, [])).values()
    ]
    return practice_of(courses, revision=longest)


def practice_of(courses: Sequence[Course], revision: str = "") -> Practice:
    """Return the trend within `courses`, each the results of one student in order.

    `revision` names the revision that they used, for the result.
    """
    score = sum(_score([value for _, value in course]) for course in courses)
    lengths = [len(course) for course in courses]
    repeats = [sorted(Counter(value for _, value in course).values()) for course in courses]
    pairs = sum(math.comb(n, 2) for n in lengths)
    tied = sum(math.comb(count, 2) for own in repeats for count in own)
    p_value, rising_p, method = _p_values(score, repeats, pairs - tied)
    return Practice(
        revision=revision,
        n=sum(lengths),
        score=score,
        # Kendall 1945: no two trials have the same place, so only values can be tied.
        tau=score / math.sqrt(pairs * (pairs - tied)) if pairs > tied else None,
        p_value=p_value,
        rising_p=rising_p,
        slope=theil_slope(courses),
        method=method,
    )


def _score(values: Sequence[float]) -> int:
    """Return the pairs that rise minus the pairs that fall."""
    score = 0
    earlier: list[float] = []
    for value in values:
        below = bisect_left(earlier, value)
        up_to = bisect_right(earlier, value)
        score += below - (len(earlier) - up_to)
        earlier.insert(up_to, value)
    return score


def _p_values(
    score: int, repeats: Sequence[Sequence[int]], pairs: int
) -> tuple[float | None, float | None, Method | None]:
    """Return the two-sided and the rising p-value of S among the pairs that are not tied."""
    if pairs == 0:
        return None, None, None
    if pairs > MOST_PAIRS:
        return *_normal_p_values(score, repeats), Method.NORMAL
    ways = joined_ways([inversion_ways(own) for own in repeats])
    total = sum(ways)
    # An order with k inversions has S = pairs - 2 k.
    rising = sum(ways[: (pairs - score) // 2 + 1])
    outer = sum(ways[: (pairs - abs(score)) // 2 + 1])
    return (1.0 if score == 0 else 2 * outer / total), rising / total, Method.EXACT


def _normal_p_values(score: int, repeats: Sequence[Sequence[int]]) -> tuple[float, float]:
    """Return both p-values by the normal distribution, ties in the variance, one step of slack."""
    variance = sum((_cubic(sum(own)) - sum(_cubic(count) for count in own)) / 18 for own in repeats)
    scale = math.sqrt(2 * variance)
    two_sided = math.erfc(max(abs(score) - 1, 0) / scale)
    return two_sided, math.erfc((score - 1) / scale) / 2


def _cubic(n: int) -> int:
    return n * (n - 1) * (2 * n + 5)
