"""A group's own counted attempts in sentences, as its band reads them: no place, no other group."""

from __future__ import annotations

from journal.content.bands import which_measures
from journal.domain.goals import GoalKind
from journal.domain.group_records import GroupRecord
from journal.domain.numbers import show_number
from journal.findings.counted_scores import (
    GroupCount,
    count_group,
    describe_goal_of,
    goal_for,
    name_place,
    show_score,
)


def describe_counted(record: GroupRecord) -> tuple[str, ...]:
    """Return the goal and what the group reached; nothing before its first counted attempt."""
    count = count_group(record)
    if not count.score.attempts:
        return ()
    context = record.context
    sentences = [
        describe_goal_of(context.challenge, context.school_class.language),
        _describe_attempts(count),
    ]
    reached = _describe_reached(count)
    return tuple([*sentences, reached] if reached else sentences)


def _describe_attempts(count: GroupCount) -> str:
    context = count.record.context
    attempts = count.score.attempts
    made = "1 counted attempt" if attempts == 1 else f"{attempts} counted attempts"
    if goal_for(context.challenge).low_is_better:
        near = context.challenge.outcome.direction.near
        if near is not None:
            made = f"{made}, each by how far it was from {show_number(near)}"
    sentence = f"{made}: {show_score(count.sum)} {context.challenge.outcome.unit} in all"
    if which_measures(context.school_class.band).show_mean:
        sentence = f"{sentence}, a mean of {show_score(count.mean)}"
    return f"{sentence}."


def _describe_reached(count: GroupCount) -> str:
    challenge = count.record.context.challenge
    goal = goal_for(challenge)
    score, missing = show_score(count.score.score), count.score.missing
    left = ", ".join(name_place(challenge, key) for key in missing)
    if goal.kind is GoalKind.COMPLETE_SET:
        sentence = f"{score} of {len(goal.zones)} of the set."
        return f"{sentence} Still to hit: {left}." if missing else sentence
    if goal.kind is GoalKind.ATTEMPTS_TO_COMPLETE:
        return f"Still to hit: {left}." if missing else f"The set took {score} attempts."
    if goal.kind is GoalKind.CLASS_TABLE:
        return f"By the table of our class: {score} points."
    return ""
