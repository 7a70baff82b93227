"""A group's own counted attempts in sentences, as its band reads them: no place, no other group."""

from __future__ import annotations

from journal.content.bands import which_measures
from journal.content.messages import word_message
from journal.domain.goals import GoalKind
from journal.domain.group_records import GroupRecord
from journal.domain.messages import Message, list_sentences
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
    sentences: list[Message] = [Message("counted_words.attempts", count=count.score.attempts)]
    near = context.challenge.outcome.direction.near
    if goal_for(context.challenge).low_is_better and near is not None:
        sentences.append(Message("counted_words.each_by_how_far_it_was", near=near))
    unit = context.challenge.outcome.unit
    sentences.append(Message("counted_words.in_all", sum=show_score(count.sum), unit=unit))
    if which_measures(context.school_class.band).show_mean:
        sentences.append(Message("counted_words.mean", mean=show_score(count.mean)))
    message = Message("counted_words.attempts_and_score", parts=tuple(sentences))
    return word_message(message, context.school_class.language)


def _describe_reached(count: GroupCount) -> str:
    message = _find_reached(count)
    return "" if message is None else word_message(message, count.record.language)


def _find_reached(count: GroupCount) -> Message | None:
    challenge = count.record.context.challenge
    goal = goal_for(challenge)
    score, missing = show_score(count.score.score), count.score.missing
    left = Message(
        "counted_words.still_to_hit", zones=tuple(name_place(challenge, key) for key in missing)
    )
    if goal.kind is GoalKind.COMPLETE_SET:
        hit = Message("counted_words.hit_of_the_set", score=score, zones=len(goal.zones))
        return list_sentences((hit, left)) if missing else hit
    if goal.kind is GoalKind.ATTEMPTS_TO_COMPLETE:
        return left if missing else Message("counted_words.set_took_attempts", score=score)
    if goal.kind is GoalKind.CLASS_TABLE:
        return Message("counted_words.by_the_table_of_our_class", score=score)
    return None
