"""Does the new one misfire more often? Counts of both sides, compared exactly.

Comes in: records of two revisions. Goes out: `MisfireComparison`, by Fisher's exact test on the
trials of students who used both. A score says nothing of misfires, so the two are told together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from math import exp, fsum, lgamma

from journal.analysis.looks import Course, adjust, find_looks
from journal.analysis.records import TrialRecord, misfires_among
from journal.analysis.verdicts import LEVEL

#: Tables closer in probability than this part are equally likely.
_TIE = 1e-7


class MisfireWord(StrEnum):
    """What may be said about the misfires of the new one."""

    MORE = "more often"
    FEWER = "less often"
    NO_CLEAR_DIFFERENCE = "no clear difference"


@dataclass(frozen=True, slots=True, kw_only=True)
class MisfireComparison:
    """Misfires of old and new among their trials."""

    old: int
    old_n: int
    new: int
    new_n: int
    p_value: float
    #: After Holm over the comparisons shown together and after all looks, as with scores.
    adjusted_p: float = 1.0
    course: Course = ()
    word: MisfireWord = MisfireWord.NO_CLEAR_DIFFERENCE


def compare_misfires(
    old: Sequence[TrialRecord], new: Sequence[TrialRecord], steps: Sequence[int] | None = None
) -> MisfireComparison | None:
    """Count and test the misfires of both sides; None where nobody used both.

    With `steps` the counts are looked at each time the comparison has reached a further one of
    these numbers of trials, misfires among them; without, once, on all.
    """
    course: Course = ()
    if steps is not None:
        looks = find_looks(old, new, steps, _counts)
        course = tuple(look.fraction for look in looks) or None
        if looks:
            old, new = (
                [record for record in side if record.order <= looks[-1].order]
                for side in (old, new)
            )
    both = {record.student for record in old} & {record.student for record in new}
    old, new = ([record for record in side if record.student in both] for side in (old, new))
    if not both:
        return None
    old_misfires, new_misfires = misfires_among(old), misfires_among(new)
    return MisfireComparison(
        old=old_misfires,
        old_n=len(old),
        new=new_misfires,
        new_n=len(new),
        p_value=fisher_p(
            old_misfires, len(old) - old_misfires, new_misfires, len(new) - new_misfires
        ),
        course=course,
    )


def settle_misfires(measured: Sequence[MisfireComparison]) -> tuple[MisfireComparison, ...]:
    """Return the comparisons in `measured`, which are shown together, each with its word."""
    adjusted = adjust(
        [comparison.p_value for comparison in measured],
        [comparison.course for comparison in measured],
    )
    return tuple(
        replace(comparison, adjusted_p=p_value, word=_choose(comparison, p_value))
        for comparison, p_value in zip(measured, adjusted, strict=True)
    )


def fisher_p(first: int, second: int, third: int, fourth: int) -> float:
    """Return the two-sided p-value of Fisher's exact test of a table of two rows.

    `first` and `second` are one row, `third` and `fourth` the other; both rows may be empty. Tables
    no more likely than the real one count as far out (Fisher, The Design of Experiments, 1935).
    """
    top, left, total = first + second, first + third, first + second + third + fourth
    least, most = max(0, top + left - total), min(top, left)
    logs = [
        _log_ways(left, k) + _log_ways(total - left, top - k) - _log_ways(total, top)
        for k in range(least, most + 1)
    ]
    seen = logs[first - least] + _TIE
    return min(1.0, fsum(exp(log_share) for log_share in logs if log_share <= seen))


def _log_ways(count: int, picks: int) -> float:
    return lgamma(count + 1) - lgamma(picks + 1) - lgamma(count - picks + 1)


def _counts(record: TrialRecord) -> bool:
    return record.misfire is not None or record.measured is not None


def _choose(comparison: MisfireComparison, p_value: float) -> MisfireWord:
    if p_value > LEVEL:
        return MisfireWord.NO_CLEAR_DIFFERENCE
    more = comparison.new * comparison.old_n > comparison.old * comparison.new_n
    return MisfireWord.MORE if more else MisfireWord.FEWER
