"""Stages: arriving, going back, and notes that are never overwritten."""

from __future__ import annotations

from uuid import uuid4

import pytest

from journal.domain.actors import NOBODY, OPERATOR
from journal.domain.errors import Invalid, NotFound, SignedOut
from journal.domain.stages import Note, NoteEntry, NoteKind, Stage
from journal.records.work import open_work
from journal.services.stages import arrive, keep_note
from journal.store import stages
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.sentences import sentences_of


def _steps(store: Store, room: Classroom) -> list[Stage]:
    with open_work(store, OPERATOR, writing=False) as work:
        group_id = room.group_ids[0]
        found = stages.steps_of_groups(work.session, [group_id], room.challenge_id)
    return [step.stage for step in found[group_id]]


def _notes(store: Store, room: Classroom) -> tuple[Note, ...]:
    with open_work(store, OPERATOR, writing=False) as work:
        return stages.notes_of_group(work.session, room.group_ids[0], room.challenge_id)


def _keep(store: Store, room: Classroom, clock: StandingClock, entry: NoteEntry) -> Note:
    with open_work(store, room.tablets[0], clock=clock) as work:
        return keep_note(work, room.group_ids[0], entry)


def test_a_group_walks_in_any_order_and_a_second_tap_is_no_step(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Back and forth is kept as walked."""
    for stage in (Stage.ASK, Stage.ASK, Stage.TEST, Stage.IMAGINE, Stage.TEST):
        with open_work(store, classroom.tablets[0], clock=clock) as work:
            arrive(work, classroom.group_ids[0], stage)
    expected = [Stage.ASK, Stage.TEST, Stage.IMAGINE, Stage.TEST]
    assert expected == _steps(store, classroom)


def test_a_note_brings_the_group_to_its_stage(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Starter and words become one sentence; the scribe stands beside it."""
    entry = NoteEntry(
        kind=NoteKind.FOUND, starter="We found that", words="the tip\nsticks.\x00", scribe="Ben"
    )
    note = _keep(store, classroom, clock, entry)
    assert ("We found that the tip sticks.", "Ben") == (note.text, note.scribe)
    assert classroom.session_id == note.session_id
    assert [Stage.IMPROVE] == _steps(store, classroom)


def test_a_later_note_stands_after_the_earlier_one(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Nothing is overwritten."""
    for words in ("Too far.", "Too far and too steep."):
        _keep(store, classroom, clock, NoteEntry(kind=NoteKind.PROBLEM, words=words))
    assert ["Too far.", "Too far and too steep."] == [
        note.text for note in _notes(store, classroom)
    ]


@pytest.mark.parametrize(
    ("entry", "field", "sentence"),
    [
        (NoteEntry(kind=NoteKind.NEXT), "next", "Tap a sentence or write one."),
        (NoteEntry(kind=NoteKind.NEXT, words="\x00 \n"), "next", "Tap a sentence or write one."),
        (NoteEntry(kind=NoteKind.NEXT, words="x" * 601), "next", "601 letters"),
        (NoteEntry(kind=NoteKind.IDEA, words="A bow."), "who", "Tap whose idea it is."),
        (
            NoteEntry(kind=NoteKind.IDEA, words="A bow.", student_id=uuid4()),
            "who",
            "Tap a child of this group.",
        ),
    ],
)
def test_a_note_without_words_or_owner_is_asked_for_again(
    store: Store,
    classroom: Classroom,
    clock: StandingClock,
    entry: NoteEntry,
    field: str,
    sentence: str,
) -> None:
    """Nothing is kept, not even the step."""
    with pytest.raises(Invalid) as caught:
        _keep(store, classroom, clock, entry)
    assert sentence in sentences_of(caught.value)[field][0]
    assert () == _notes(store, classroom)
    assert [] == _steps(store, classroom)


def test_only_the_group_and_its_teacher_write(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Another group's pages are not found; the teacher's hand is welcome."""
    group_id = classroom.group_ids[1]
    entry = NoteEntry(kind=NoteKind.PROBLEM, words="Too far.")
    for verb in (
        lambda work: arrive(work, group_id, Stage.ASK),
        lambda work: keep_note(work, group_id, entry),
    ):
        with open_work(store, classroom.tablets[0], clock=clock) as work, pytest.raises(NotFound):
            verb(work)
        with open_work(store, NOBODY, clock=clock) as work, pytest.raises(SignedOut):
            verb(work)
        with open_work(store, classroom.teacher, clock=clock) as work:
            verb(work)
