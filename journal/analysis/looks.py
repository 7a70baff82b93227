"""When running data are looked at, and what p-values are worth at the last look.

Comes in: records of two revisions, and the counts of trials at which to look. Goes out: the looks
so far, each with the share of the planned information that it had; and p-values brought to the one
level of .05, whatever the looks and however many comparisons are shown together.

Looking after every trial calls a difference that is not there sooner or later, so there are looks
at a few sizes of the comparison, each with all trials had by then, and each look has its price
(`alpha_spending`). The size is what both sides are worth together, the harmonic mean of their
counts: by the smaller side alone a group that goes on with its new revision would never be looked
at again.
Finished data have one look, at all of it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from journal.analysis.alpha_spending import Spending, levels_of
from journal.analysis.records import TrialRecord
from journal.analysis.verdicts import LEVEL

#: Sizes of a comparison at which running data are looked at; no side is smaller than the first.
LIVE_STEPS = (6, 8, 12, 16, 24, 36, 48)
#: Trials a side, were both alike, at which the level is used up.
FULL_TRIALS = 48


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """One look: the trials up to `order`, of students who had then used both."""

    #: The size that was reached.
    step: int
    order: int
    #: Share of the planned information, in 0..1.
    fraction: float


def _has_value(record: TrialRecord) -> bool:
    return record.measured is not None


def find_looks(
    old: Sequence[TrialRecord],
    new: Sequence[TrialRecord],
    steps: Sequence[int],
    counts: Callable[[TrialRecord], bool] = _has_value,
) -> tuple[Look, ...]:
    """Return the looks so far: one each time the comparison reached a further one of `steps`.

    Counted are trials of students who had used both by then, as only those are compared; `counts`
    tells which trials these are, by default those with a value.
    """
    marked = sorted(
        [(record.order, record.student, False) for record in old if counts(record)]
        + [(record.order, record.student, True) for record in new if counts(record)]
    )
    by_student: dict[str, list[int]] = defaultdict(lambda: [0, 0])
    shared = [0, 0]
    looks: list[Look] = []
    ahead = sorted(steps)
    for order, student, is_new in marked:
        own = by_student[student]
        own[is_new] += 1
        if own[is_new] == 1 and own[not is_new]:
            # From now on this student's earlier trials are compared as well.
            shared[not is_new] += own[not is_new]
        if own[not is_new]:
            shared[is_new] += 1
        size = _size_of(*shared) if min(shared) >= min(steps) else 0
        reached = [step for step in ahead if step <= size]
        if reached:
            ahead = ahead[len(reached) :]
            looks.append(Look(step=reached[-1], order=order, fraction=min(1.0, size / FULL_TRIALS)))
    return tuple(looks)


def _size_of(old_n: int, new_n: int) -> float:
    """Return how many trials a side would tell as much, were both sides alike."""
    return 2 * old_n * new_n / (old_n + new_n)


#: The information shares of the looks so far; empty for finished data, None before the first look.
Course = tuple[float, ...] | None


def adjust(p_values: Sequence[float], courses: Sequence[Course]) -> list[float]:
    """Return `p_values` that may be compared with .05, for comparisons that are shown together.

    `courses` has the information at the looks of each. A p-value is set in proportion to the level
    of its last look, where the level of all looks is shared out by Holm. One that waits for its
    first look is not tested yet, and yet counts among them.
    """
    count = len(p_values)
    adjusted = [1.0] * count
    ranked = sorted(
        (place for place in range(count) if courses[place] is not None),
        key=lambda place: _relative(p_values[place], courses[place], LEVEL),
    )
    highest = 0.0
    for rank, place in enumerate(ranked):
        share = LEVEL / (count - rank)
        highest = max(highest, min(1.0, _relative(p_values[place], courses[place], share)))
        adjusted[place] = highest
    return adjusted


def _relative(p_value: float, course: Course, share: float) -> float:
    """Return the p-value as if its level were .05."""
    level = share if not course else levels_of(course, share, Spending.POCOCK)[-1]
    return p_value * (LEVEL / level) if level > 0 else float(p_value > 0) or 1.0
