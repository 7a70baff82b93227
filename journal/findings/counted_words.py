"""A group's own counted attempts in sentences, as its band reads them: no place, no other group."""

from __future__ import annotations

from journal.content.bands import which_measures
from journal.domain.goals import GoalKind
from journal.domain.group_records import GroupRecord
from journal.domain.numbers import show_number
from journal.findings.counted_scores import (
    GroupCount,
    count_group,
    goal_for,
    name_place,
    say_goal,
    show_score,
)


def tell_counted(record: GroupRecord) -> tuple[str, ...]:
    """Return the goal and what the group reached; nothing before its first counted attempt."""
    count = count_group(record)
    if not count.score.attempts:
        return ()
    context = record.context
    told = [say_goal(context.challenge, context.school_class.language), _tell_attempts(count)]
    reached = _tell_reached(count)
    return tuple([*told, reached] if reached else told)


def _tell_attempts(count: GroupCount) -> str:
    context = count.record.context
    attempts = count.score.attempts
    made = "1 counted attempt" if attempts == 1 else f"{attempts} counted attempts"
    if goal_for(context.challenge).low_is_better:
        near = context.challenge.outcome.direction.near
        if near is not None:
            made = f"{made}, each by how far it was from {show_number(near)}"
    told = f"{made}: {show_score(count.sum)} {context.challenge.outcome.unit} in all"
    if which_measures(context.school_class.band).show_mean:
        told = f"{told}, a mean of {show_score(count.mean)}"
    return f"{told}."


def _tell_reached(count: GroupCount) -> str:
    challenge = count.record.context.challenge
    goal = goal_for(challenge)
    score, missing = show_score(count.score.score), count.score.missing
    left = ", ".join(name_place(challenge, key) for key in missing)
    if goal.kind is GoalKind.COMPLETE_SET:
        told = f"{score} of {len(goal.zones)} of the set."
        return f"{told} Still to hit: {left}." if missing else told
    if goal.kind is GoalKind.ATTEMPTS_TO_COMPLETE:
        return f"Still to hit: {left}." if missing else f"The set took {score} attempts."
    if goal.kind is GoalKind.CLASS_TABLE:
        return f"By the table of our class: {score} points."
    return ""
