"""When a swap test is judged, and what each look may cost.

Comes in: how many whole pairs there are and were planned, and how many tests of the same two there
were. Goes out: the last look so far with its level, and when the next one is.

By O'Brien & Fleming's kind of spending an early look calls only what is very clear, and the last
one has nearly the whole level (`alpha_spending`). The first test of two revisions has three
quarters of the level, each later one half of what is left, so that all looks of all tests of the
same two share .05. Six pairs that all agree (p .031) can still tell.
"""

from __future__ import annotations

from dataclasses import dataclass

from journal.analysis.alpha_spending import Spending, levels_of
from journal.analysis.verdicts import LEVEL

#: Whole pairs of the group at the first look, and from one look to the next.
FIRST_LOOK_PAIRS = 8
PAIRS_BETWEEN_LOOKS = 4
#: Part of the level that the first test of two revisions has.
_FIRST_TEST_SHARE = 0.75


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapCourse:
    """How far the swap tests of the same two have come, in whole pairs."""

    #: Pairs of the tests before the present one.
    earlier_pairs: int
    #: Pairs of the present test: whole so far, and planned.
    pairs: int
    planned_pairs: int
    #: Which test of these two it is, from 1.
    number: int
    is_over: bool

    @property
    def total_pairs(self) -> int:
        """Return how many pairs there are when the present test is through."""
        return self.earlier_pairs + self.planned_pairs

    @property
    def whole_pairs(self) -> int:
        """Return how many pairs there are now."""
        return self.earlier_pairs + self.pairs


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapLook:
    """One look: at the first `pairs` whole pairs, at a two-sided `level` of its own."""

    pairs: int
    level: float


def level_of_test(number: int) -> float:
    """Return the level of all looks of the test with this `number`, from 1, of the same two."""
    if number == 1:
        return LEVEL * _FIRST_TEST_SHARE
    return LEVEL * (1 - _FIRST_TEST_SHARE) / 2.0 ** (number - 1)


def find_last_look(course: SwapCourse) -> SwapLook | None:
    """Return the last look of a `course` so far; None before the first.

    A test that is over has a look at all its pairs. One that was ended early gets no more level
    for it than its pairs have earned, so nobody gains by ending at a lucky moment.
    """
    counts = [count for count in _planned_looks(course) if count <= course.whole_pairs]
    if course.is_over and course.whole_pairs and counts[-1:] != [course.whole_pairs]:
        counts.append(course.whole_pairs)
    if not counts:
        return None
    fractions = tuple(count / course.total_pairs for count in counts)
    levels = levels_of(fractions, level_of_test(course.number), Spending.OBRIEN_FLEMING)
    return SwapLook(pairs=counts[-1], level=levels[-1])


def count_pairs_to_next_look(course: SwapCourse) -> int | None:
    """Return how many whole pairs a `course` lacks to its next look; None where there is none."""
    if course.is_over:
        return None
    ahead = [count for count in _planned_looks(course) if count > course.whole_pairs]
    return ahead[0] - course.whole_pairs if ahead else None


def _planned_looks(course: SwapCourse) -> list[int]:
    steps = range(FIRST_LOOK_PAIRS, course.total_pairs, PAIRS_BETWEEN_LOOKS)
    return [*(step for step in steps if step > course.earlier_pairs), course.total_pairs]
