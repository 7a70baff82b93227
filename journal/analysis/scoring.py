"""Scoring: from hits on a panel to what a group reached, by the goal that was agreed before.

In: attempts with where they landed, and a goal. Out: a score for each group, and places with ties.
An excused attempt is not a zero: it does not count at all. Groups with unequal numbers of
attempts are only comparable by a goal that divides by them, and it is said.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import fsum

from journal.domain.goals import MEASURE, Goal, GoalKind, TableRow


@dataclass(frozen=True, slots=True, kw_only=True)
class Attempt:
    """One attempt: where it landed and what the panel gives for it; excused ones do not count."""

    order: int
    #: A zone's key, "bare", "wall" or "nowhere"; "measure" where the outcome is a quantity.
    where: str
    points: float
    student: str = ""
    excused: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupScore:
    """What a group reached; None without a counted attempt, or with a set not completed."""

    group: str
    score: float | None
    attempts: int
    excused: int
    #: Of the set: what is still to be hit, in the goal's order.
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranked:
    """A group's place; groups with equal scores share one, and the next place is left out."""

    score: GroupScore
    place: int | None
    tied: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranking:
    """Groups by place, those without a score last."""

    ranked: tuple[Ranked, ...]
    #: True where groups had unequal numbers of attempts and the goal does not allow for it.
    unequal_attempts: bool


def score_group(group: str, attempts: Iterable[Attempt], goal: Goal) -> GroupScore:
    """Return what a group reached by a goal, from its counted `attempts`."""
    in_order = sorted(attempts, key=lambda attempt: attempt.order)
    counted = [attempt for attempt in in_order if not attempt.excused]
    missing = _find_missing(counted, goal)
    score: float | None = None
    if counted:
        score = _find_score(counted, goal, missing)
    return GroupScore(
        group=group,
        score=score,
        attempts=len(counted),
        excused=len(in_order) - len(counted),
        missing=missing,
    )


def rank_groups(scores: Sequence[GroupScore], goal: Goal) -> Ranking:
    """Return places for `scores` by a `goal`; equal scores share a place (1, 2, 2, 4)."""
    sign = 1.0 if goal.less_is_better else -1.0
    known = [score.score for score in scores if score.score is not None]

    def rank(score: GroupScore) -> Ranked:
        if score.score is None:
            return Ranked(score=score, place=None, tied=False)
        before = sum(1 for other in known if sign * other < sign * score.score)
        return Ranked(score=score, place=before + 1, tied=known.count(score.score) > 1)

    ranked = [rank(score) for score in scores]
    unplaced = len(scores) + 1
    ranked.sort(key=lambda each: unplaced if each.place is None else each.place)
    sizes = {score.attempts for score in scores if score.attempts}
    return Ranking(
        ranked=tuple(ranked),
        unequal_attempts=goal.needs_equal_attempts and len(sizes) > 1,
    )


def _find_score(counted: Sequence[Attempt], goal: Goal, missing: Sequence[str]) -> float | None:
    points = fsum(attempt.points for attempt in counted)
    match goal.kind:
        case GoalKind.MOST_POINTS:
            return points
        case GoalKind.MEAN_PER_ATTEMPT:
            return points / len(counted)
        case GoalKind.COMPLETE_SET:
            return float(len(goal.zones) - len(missing))
        case GoalKind.ATTEMPTS_TO_COMPLETE:
            return None if missing else float(_count_until_complete(counted, goal))
        case GoalKind.CLASS_TABLE:
            return _score_by_table(counted, goal.table)


def _find_missing(counted: Iterable[Attempt], goal: Goal) -> tuple[str, ...]:
    hits = Counter(attempt.where for attempt in counted)
    missing = []
    for zone in goal.zones:
        if hits[zone] > 0:
            hits[zone] -= 1
        else:
            missing.append(zone)
    return tuple(missing)


def _count_until_complete(counted: Sequence[Attempt], goal: Goal) -> int:
    for number in range(len(counted) + 1):
        if not _find_missing(counted[:number], goal):
            return number
    return len(counted)


def _score_by_table(counted: Iterable[Attempt], table: Sequence[TableRow]) -> float:
    """Add up the points of the first row that is for each hit; a hit without a row is worth 0.

    A row goes by the number of the hit at its place, or by the quantity where one is measured.
    """
    numbers: Counter[str] = Counter()
    worth = []
    for attempt in counted:
        numbers[attempt.where] += 1
        measured = attempt.where == MEASURE
        number = attempt.points if measured else float(numbers[attempt.where])
        row = next((row for row in table if row.holds(attempt.where, number)), None)
        worth.append(0.0 if row is None else row.points)
    return fsum(worth)
