"""The six stages: arriving at one, and what a group writes down there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from uuid import UUID

from journal.domain.errors import Invalid, Problem
from journal.domain.group_contexts import GroupContext
from journal.domain.messages import Message
from journal.domain.permits import require_may_log
from journal.domain.sentences import clean_words, find_problem
from journal.domain.stages import Note, NoteEntry, NoteKind, Stage, Step
from journal.records.group_contexts import get_group_context
from journal.records.work import Work
from journal.store import classes, stages

_MOST_SCRIBE_LETTERS = 24


def arrive(work: Work, group_id: UUID, stage: Stage) -> None:
    """Note that a group is at a stage now; tapping it twice is one arrival."""
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    reach_stage(work, context, stage)


def reach_stage(work: Work, context: GroupContext, stage: Stage) -> None:
    """Note an arrival unless the group is there already: part of whatever brought it there."""
    last = stages.find_last_step(work.session, context.group.id, context.challenge_id)
    if last is not None and last.stage is stage and _same_session(last, context):
        return
    session_id = context.running.id if context.running else None
    step = Step(stage=stage, at=work.now(), session_id=session_id)
    stages.add_step(work.session, context.group, context.challenge_id, step)
    classes.bump_version(work.session, context.school_class.id)


def keep_note(work: Work, group_id: UUID, entry: NoteEntry) -> Note:
    """Keep what a group wrote at a stage; see `keep_notes`."""
    return keep_notes(work, group_id, [entry])[0]


def keep_notes(work: Work, group_id: UUID, entries: Sequence[NoteEntry]) -> tuple[Note, ...]:
    """Keep what a group wrote in the fields of a stage; an earlier note stays before a later one.

    An empty field is passed over unless all are. Raises Invalid with the kinds as fields where
    nothing was said, or by nobody of the group.
    """
    context = get_group_context(work, group_id)
    require_may_log(work.actor, context.group, context.school_class)
    said = [entry for entry in entries if clean_words(entry.text)] or entries[:1]
    problems: list[Problem] = []
    settled = [_settle(entry, context, problems) for entry in said]
    if problems:
        raise Invalid(problems[0].what, problems)
    notes = []
    for entry in settled:
        reach_stage(work, context, entry.kind.stage)
        note = stages.add_note(
            work.session,
            context.group,
            context.challenge_id,
            entry,
            session_id=context.running.id if context.running else None,
            logged_at=work.now(),
        )
        notes.append(note)
    classes.bump_version(work.session, context.school_class.id)
    return tuple(notes)


def _settle(entry: NoteEntry, context: GroupContext, problems: list[Problem]) -> NoteEntry:
    settled = replace(
        entry,
        starter=clean_words(entry.starter),
        words=clean_words(entry.words),
        scribe=clean_words(entry.scribe)[:_MOST_SCRIBE_LETTERS],
        # What is the group's is nobody's own.
        student_id=entry.student_id if entry.kind.one_a_member else None,
    )
    name = entry.kind.value
    too_long = find_problem(name, settled.text)
    if too_long:
        problems.append(too_long)
    if not settled.text:
        problems.append(Problem(name, Message("stages.tap_a_sentence_or_write_one")))
    if entry.kind is NoteKind.IDEA and settled.student_id is None:
        problems.append(Problem("who", Message("stages.tap_whose_idea_it_is")))
    if settled.student_id is not None and not context.group.has(settled.student_id):
        problems.append(Problem("who", Message("stages.tap_a_child_of_this_group")))
    return settled


def _same_session(last: Step, context: GroupContext) -> bool:
    return last.session_id == (context.running.id if context.running else None)
