"""What of a group's log speaks of its way of designing, counted from its notes."""

from __future__ import annotations

from datetime import timedelta
from uuid import UUID, uuid4

from journal.domain.group_records import GroupRecord
from journal.domain.stages import Note, NoteKind
from journal.findings.design_patterns import read_log
from journal.store.engine import Store
from tests.factories.classrooms import Classroom
from tests.factories.group_records import record_with, told_values


def note(
    record: GroupRecord, kind: NoteKind, words: str, student_id: UUID | None, minutes: int = -5
) -> Note:
    """Return a note, by default of five minutes before the first build."""
    built = record.parts[0].revisions[0].made_at
    return Note(
        id=uuid4(),
        group_id=record.group.id,
        challenge_id=record.context.challenge_id,
        session_id=None,
        kind=kind,
        text=words,
        student_id=student_id,
        scribe="",
        logged_at=built + timedelta(minutes=minutes),
    )


def test_only_ideas_before_the_first_build_are_ideas(store: Store, classroom: Classroom) -> None:
    """Questions and the problem are counted apart; a late idea does not count."""
    record = record_with(store, classroom, told_values([1.0, 2, 4], 1))
    ada, ben, cleo = classroom.student_ids[0]
    log = read_log(
        record,
        [
            note(record, NoteKind.PROBLEM, "The ditch is wide.", cleo),
            note(record, NoteKind.IDEA, "A long rail.", ada),
            note(record, NoteKind.IDEA, "A bow with two bands on it.", ben),
            note(record, NoteKind.QUESTION, "How far is it?", cleo),
            note(record, NoteKind.IDEA, "Fins.", cleo, minutes=5),
        ],
    )
    assert (2, (3, 7)) == (log.members_with_idea, log.idea_words)
    assert (True, False, 1) == (log.problem_noted, log.choice_noted, log.questions)
    assert (3, 3, 0) == (log.trials, log.trials_unnoted, log.revisions)


def test_looking_back_is_noted_before_the_next_build(store: Store, classroom: Classroom) -> None:
    """A revision after a note of what was found was seen; trials after it are still unnoted."""
    record = record_with(store, classroom, told_values([1.0, 2, 4, 2], 2))
    ada = classroom.student_ids[0][0]
    unseen = read_log(record, [])
    seen = read_log(record, [note(record, NoteKind.FOUND, "It dips.", ada, minutes=2)])
    assert (1, 1) == (unseen.revisions, unseen.unseen_revisions)
    assert (1, 0) == (seen.revisions, seen.unseen_revisions)
