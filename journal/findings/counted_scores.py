"""Scores of counted attempts: a group's record in, its attempts and scores out.

An excused attempt is no zero. Whoever is absent today, or whose attempt the teacher set aside, has
it excused. Groups of unequal size are put side by side by the mean of an attempt.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from journal.analysis.scoring import (
    Attempt,
    GroupScore,
    Ranking,
    rank_groups,
    score_group,
)
from journal.content.goals import describe_goal
from journal.domain.challenges import Challenge, OutcomeKind
from journal.domain.goals import BARE, MEASURE, Goal, GoalKind
from journal.domain.group_records import GroupRecord
from journal.domain.numbers import show_number
from journal.domain.outcomes import DirectionKind
from journal.domain.trials import Place, Trial, TrialKind, TrialState

MEAN = GoalKind.MEAN_PER_ATTEMPT


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupCount:
    """A group's counted attempts with what they come to by the goal."""

    record: GroupRecord
    attempts: tuple[Attempt, ...]
    score: GroupScore
    sum: float | None
    mean: float | None


def goal_for(challenge: Challenge) -> Goal:
    """Return the agreed goal; where less or nearness is better, a small score is."""
    goal = challenge.agreed_goal
    by_measure = goal.kind in {GoalKind.MOST_POINTS, MEAN}
    more = challenge.outcome.direction.kind is DirectionKind.MORE
    return replace(goal, low_is_better=by_measure and not more)


def count_group(record: GroupRecord) -> GroupCount:
    """Count a group's attempts and score them by the goal."""
    challenge = record.context.challenge
    goal = goal_for(challenge)
    attempts = tuple(
        _attempt(challenge, goal, order, trial)
        for order, trial in enumerate(record.trials)
        if is_counted(trial)
    )
    name = str(record.group.id)

    def of_kind(kind: GoalKind) -> float | None:
        return score_group(name, attempts, replace(goal, kind=kind)).score

    return GroupCount(
        record=record,
        attempts=attempts,
        score=score_group(name, attempts, goal),
        sum=of_kind(GoalKind.MOST_POINTS),
        mean=of_kind(MEAN),
    )


def is_counted(trial: Trial) -> bool:
    """Tell whether a trial is a counted attempt, also one that the teacher set aside.

    A misfire is none: the attempt stays and is made again.
    """
    return trial.kind is TrialKind.COUNTED and (
        trial.state is TrialState.VOID
        or (trial.state is TrialState.MEASURED and trial.value is not None)
    )


def place_groups(counts: Sequence[GroupCount], goal: Goal) -> tuple[Ranking, bool]:
    """Give places by the goal; sums of unequal numbers of attempts go by the mean instead.

    Also returns whether the mean was taken in place of the sum.
    """
    ranking = rank_groups([count.score for count in counts], goal)
    if not ranking.unequal_attempts or goal.kind is not GoalKind.MOST_POINTS:
        return ranking, False
    by_mean = replace(goal, kind=MEAN)
    scores = [replace(count.score, score=count.mean) for count in counts]
    return rank_groups(scores, by_mean), True


def describe_goal_of(challenge: Challenge, language: str) -> str:
    """Return the challenge's goal in a sentence."""
    goal = goal_for(challenge)
    return describe_goal(
        goal,
        language,
        zones=", ".join(name_place(challenge, key) for key in goal.zones),
        is_measure=challenge.outcome.kind is not OutcomeKind.ZONES,
    )


def name_place(challenge: Challenge, where: str) -> str:
    """Return the name of a place that a goal speaks of."""
    panel = challenge.panel
    if where == BARE and panel is not None:
        return panel.bare_name
    if where in {Place.WALL, Place.NOWHERE}:
        return "Wall" if where == Place.WALL else "Flew past"
    zones = () if panel is None else panel.zones
    return next((zone.name for zone in zones if zone.key == where), where)


def show_score(score: float | None) -> str:
    """Return a score with at most two decimals; "" where there is none."""
    return "" if score is None else show_number(score, 2)


def _attempt(challenge: Challenge, goal: Goal, order: int, trial: Trial) -> Attempt:
    value = 0.0 if trial.value is None else trial.value
    near = challenge.outcome.direction.near
    if near is not None and goal.low_is_better:
        value = abs(value - near)
    return Attempt(
        order=order,
        where=_where(challenge, trial),
        points=value,
        student="" if trial.student_id is None else str(trial.student_id),
        excused=trial.state is TrialState.VOID,
    )


def _where(challenge: Challenge, trial: Trial) -> str:
    if challenge.outcome.kind is not OutcomeKind.ZONES:
        return MEASURE
    if trial.place is None or trial.place is Place.PANEL:
        return trial.zone or BARE
    return trial.place.value
