"""Adapt the challenge for one group: nearer, simpler, another way, practice first; and see it kept.

Comes in: what the teacher enters, with the gate's lines ticked again. Goes out: an Adaptation that
every trial of the group carries from then on.
"""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID, uuid4

from journal.content.adaptation_words import describe_adaptation, get_check_lines
from journal.domain.adaptations import (
    Adaptation,
    AdaptationEntry,
    AdaptationKind,
    AdaptedCheck,
    find_distance_mm,
)
from journal.domain.errors import Invalid, Problem
from journal.domain.group_contexts import GroupContext
from journal.domain.group_records import GroupRecord
from journal.domain.lengths import read_length_mm, show_length
from journal.domain.messages import Message
from journal.domain.permits import require_may_teach
from journal.domain.practice_sets import read_trials
from journal.domain.sentences import clean_words, find_problem
from journal.domain.trials import TrialKind
from journal.records.group_contexts import get_group_context
from journal.records.work import Work
from journal.services.practice_sets import plan_practice
from journal.store import adaptations, classes

MOST_NOTE_LETTERS = 300
_NOTED = frozenset({AdaptationKind.SIMPLER, AdaptationKind.OTHER_WAY})


def adapt(work: Work, group_id: UUID, entry: AdaptationEntry) -> Adaptation:
    """Keep an adaptation for a group; raise Invalid with every problem by its field.

    In a challenge that launches, or loads until it breaks, each line of the gate is ticked first.
    """
    context = get_group_context(work, group_id)
    require_may_teach(work.actor, context.school_class)
    before = adaptations.adaptations_of_groups(work.session, [group_id], context.challenge_id)
    problems: list[Problem] = []
    distance_mm = _read_distance(entry, context, before, problems)
    trials = _read_trials(entry, problems)
    note = clean_words(entry.note)
    problems += [problem for problem in [find_problem("note", note, MOST_NOTE_LETTERS)] if problem]
    if entry.kind in _NOTED and not note:
        problems.append(Problem("note", Message("adaptations.say_in_a_few_words_what_you_adapt")))
    ticked = _read_checks(entry, context, problems)
    if problems:
        raise Invalid(problems[0].what, problems)
    kept = Adaptation(
        id=uuid4(),
        school_id=context.group.school_id,
        group_id=group_id,
        challenge_id=context.challenge_id,
        kind=entry.kind,
        distance_mm=distance_mm,
        practice_trials=trials,
        note=note,
        checks=ticked,
        adapted_at=work.now(),
        teacher_id=context.school_class.teacher_id,
    )
    adaptations.add_adaptation(work.session, kept)
    if trials:
        plan_practice(work, context, trials, by_teacher=True)
    classes.bump_version(work.session, context.school_class.id)
    return kept


def describe_adaptations(record: GroupRecord) -> tuple[str, ...]:
    """Return what was adapted for a group, a sentence each, oldest first."""
    return tuple(_describe(record, adaptation) for adaptation in record.adaptations)


def describe_unlike_distances(records: Sequence[GroupRecord]) -> tuple[Message, ...]:
    """Return which groups had counted attempts from another distance than the class's."""
    unlike = []
    for record in records:
        usual_mm = _class_distance_mm(record.context)
        counted = {
            trial.distance_mm
            for trial in record.usable_trials
            if trial.kind is TrialKind.COUNTED and trial.distance_mm is not None
        }
        others = sorted(counted - {usual_mm})
        if usual_mm is not None and others:
            ways = " and ".join(_describe_difference(usual_mm, other) for other in others)
            unlike.append(f"{record.group.name}, {ways}")
    return (
        (Message("adaptations.not_comparable_with_the_rest", told=tuple(unlike)),) if unlike else ()
    )


def offered_kinds(context: GroupContext) -> tuple[AdaptationKind, ...]:
    """Return what can be adapted in a challenge: without a distance there is none to change."""
    return tuple(
        kind
        for kind in AdaptationKind
        if kind is not AdaptationKind.CLOSER or _class_distance_mm(context) is not None
    )


def _describe(record: GroupRecord, kept: Adaptation) -> str:
    language = record.language
    usual_mm = _class_distance_mm(record.context)
    note = _as_sentence(kept.note)
    slots = {"note": note, "trials": str(kept.practice_trials or "")}
    if kept.kind is AdaptationKind.CLOSER and kept.distance_mm is not None and usual_mm is not None:
        slots |= {
            "distance": show_length(kept.distance_mm),
            "usual": show_length(usual_mm),
            "difference": _describe_difference(usual_mm, kept.distance_mm),
        }
    sentence = describe_adaptation(kept.kind, language, **slots)
    return sentence if kept.kind in _NOTED or not kept.note else f"{sentence} {note}"


def _describe_difference(usual_mm: int, distance_mm: int) -> str:
    way = "closer" if distance_mm < usual_mm else "farther"
    return f"{show_length(abs(usual_mm - distance_mm))} {way}"


def _as_sentence(note: str) -> str:
    return note if note.endswith((".", "!", "?")) else f"{note}."


def _class_distance_mm(context: GroupContext) -> int | None:
    last = context.running or (context.sessions[-1] if context.sessions else None)
    return context.challenge.distance_mm if last is None else last.distance_mm


def _read_distance(
    entry: AdaptationEntry,
    context: GroupContext,
    before: tuple[Adaptation, ...],
    problems: list[Problem],
) -> int | None:
    if entry.kind is not AdaptationKind.CLOSER:
        return None
    usual_mm = _class_distance_mm(context)
    if usual_mm is None:
        problems.append(Problem("kind", Message("adaptations.challenge_has_no_distance_to_change")))
        return None
    try:
        distance_mm = read_length_mm(entry.distance, "distance", lowest_mm=100, highest_mm=50_000)
    except Invalid as invalid:
        problems.extend(invalid.problems)
        return None
    if distance_mm == find_distance_mm(before, usual_mm):
        what = Message("adaptations.group_is_at_already", distance_mm=show_length(distance_mm))
        problems.append(Problem("distance", what))
    return distance_mm


def _read_trials(entry: AdaptationEntry, problems: list[Problem]) -> int | None:
    if entry.kind is not AdaptationKind.MORE_PRACTICE:
        return None
    try:
        return read_trials(entry.trials)
    except Invalid as invalid:
        problems.extend(invalid.problems)
        return None


def _read_checks(
    entry: AdaptationEntry, context: GroupContext, problems: list[Problem]
) -> tuple[AdaptedCheck, ...]:
    if not entry.kind.needs_gate or not context.challenge.has_gate:
        return ()
    lines = get_check_lines(context.school_class.language, launches=context.challenge.launches)
    missing = [line for check, line in lines.items() if check.value not in entry.ticked]
    if missing:
        what = Message("adaptations.look_at_each_line_in_the_room_first", missing=tuple(missing))
        problems.append(Problem("checks", what))
    return tuple(lines)
