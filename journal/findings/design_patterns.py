"""Signs of nine ways of designing in a group's log, worded for a talk of the teacher's.

Comes in: a record and the group's notes. Goes out: signs with a question each; never a grade, never
on a student's screen.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from journal.content.design_patterns import PatternWords, get_pattern_words
from journal.domain.design_patterns import LEAST_TRIALS, DesignLog, find_signs
from journal.domain.group_records import GroupRecord
from journal.domain.part_states import PartState
from journal.domain.revisions import Revision
from journal.domain.stages import Note, NoteKind


def describe_signs(record: GroupRecord, notes: Sequence[Note]) -> tuple[PatternWords, ...]:
    """Return the patterns that are worth a talk, in words."""
    language = record.language
    return tuple(
        get_pattern_words(sign.pattern, language, **sign.figures)
        for sign in find_signs(read_log(record, notes))
    )


def read_log(record: GroupRecord, notes: Sequence[Note]) -> DesignLog:
    """Return the counts in which the signs are looked for."""
    main = record.main_part
    built = main.revisions if main else ()
    first = built[0].made_at if built else None
    before = [note for note in notes if first is None or note.logged_at <= first]
    ideas = [note for note in before if note.kind is NoteKind.IDEA]
    later = (
        [(main, revision) for revision in built if revision.parent_id is not None] if main else []
    )
    looked_back = [note.logged_at for note in notes if note.kind in {NoteKind.FOUND, NoteKind.NEXT}]
    trials = record.usable_trials
    last = looked_back[-1] if looked_back else None
    return DesignLog(
        members=len(record.group.present_members),
        problem_noted=_has(before, NoteKind.PROBLEM),
        choice_noted=_has(before, NoteKind.CHOICE),
        members_with_idea=len({note.student_id for note in ideas}),
        idea_words=tuple(len(note.text.split()) for note in ideas),
        questions=sum(note.kind is NoteKind.QUESTION for note in notes),
        revisions=len(later),
        untold_revisions=sum(_is_unmentioned(record, state, revision) for state, revision in later),
        unseen_revisions=sum(_is_unseen(state, revision, looked_back) for state, revision in later),
        has_built=first is not None,
        trials=len(trials),
        trials_unnoted=sum(last is None or trial.received_at > last for trial in trials),
    )


def _has(notes: Sequence[Note], kind: NoteKind) -> bool:
    return any(note.kind is kind for note in notes)


def _is_unmentioned(record: GroupRecord, state: PartState, revision: Revision) -> bool:
    """Tell whether nobody can say what a revision did: many changes, or few trials before."""
    parent = state.find_revision(revision.parent_id) if revision.parent_id else None
    before = 0 if parent is None else len(record.trials_of(parent.id))
    return len(revision.changes) > 1 or before < LEAST_TRIALS


def _is_unseen(state: PartState, revision: Revision, looked_back: Sequence[datetime]) -> bool:
    """Tell whether nothing was noted between the revision before and this one."""
    earlier = [before.made_at for before in state.revisions if before.made_at < revision.made_at]
    since = max(earlier, default=revision.made_at)
    return not any(since <= at <= revision.made_at for at in looked_back)
