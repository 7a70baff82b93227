"""Lesson words, from making one to the open door."""

from __future__ import annotations

import pytest

from journal.content.messages import word_message
from journal.domain.actors import NOBODY
from journal.domain.errors import Invalid, NotAllowed, NotFound
from journal.records.work import open_work
from journal.services.lesson_words import UNKNOWN, end_lesson_word, make_lesson_word, open_door
from journal.store import classes
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.sentences import sentences_of
from tests.services.test_classes import another_teacher


def test_the_word_opens_the_door_until_it_expires(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """It lasts the hours that were chosen, and every wrong word gets one answer."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        word = make_lesson_word(work, classroom.class_id, "2")
    with open_work(store, NOBODY, clock=clock) as work:
        kept, school_class = open_door(work, word.upper().replace("-", " "))
        assert (word, classroom.class_id) == (kept, school_class.id)
        clock.move(minutes=119)
        open_door(work, word)
        clock.move(minutes=2)
        for typed in (word, "copper-otter-000", "", "x" * 9999):
            with pytest.raises(Invalid) as refused:
                open_door(work, typed)
            assert {"word": [word_message(UNKNOWN)]} == sentences_of(refused.value)


def test_a_word_made_by_a_clock_that_was_ahead_opens_nothing(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The clock of the laptop is put right: the word does not last until that year."""
    right = clock()
    clock.move(days=900)
    with open_work(store, classroom.teacher, clock=clock) as work:
        word = make_lesson_word(work, classroom.class_id, "8")
    clock.time = right
    with open_work(store, NOBODY, clock=clock) as work:
        with pytest.raises(Invalid):
            open_door(work, word)
        assert classes.find_word(work.session, classroom.class_id, work.now()) is None


def test_a_new_word_ends_the_old_one(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A word on last week's photo of the board is of no use."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        old = make_lesson_word(work, classroom.class_id)
        new = make_lesson_word(work, classroom.class_id)
        assert old != new
        with pytest.raises(Invalid):
            open_door(work, old)
        assert new == open_door(work, new)[0]
        end_lesson_word(work, classroom.class_id)
        with pytest.raises(Invalid):
            open_door(work, new)
        assert classes.find_word(work.session, classroom.class_id, work.now()) is None


def test_a_word_that_another_class_has_is_drawn_again(
    store: Store, clock: StandingClock, classroom: Classroom, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two classes never share a door."""
    drawn = iter([5, 5, 6])
    monkeypatch.setattr("secrets.randbelow", lambda _: next(drawn))
    with open_work(store, classroom.teacher, clock=clock) as work:
        first = make_lesson_word(work, classroom.class_id)
        second = make_lesson_word(work, classroom.class_id)
    assert first != second


def test_hours_off_the_school_day_are_refused(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The present word stays when the new one is refused."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        word = make_lesson_word(work, classroom.class_id)
        with pytest.raises(Invalid):
            make_lesson_word(work, classroom.class_id, "48")
        assert word == open_door(work, word)[0]


def test_only_the_own_teacher_makes_a_word(store: Store, classroom: Classroom) -> None:
    """Another teacher's class is not found; a tablet is not allowed."""
    for actor, error in (
        (another_teacher(store, classroom), NotFound),
        (classroom.tablets[0], NotAllowed),
    ):
        with open_work(store, actor) as work:
            with pytest.raises(error):
                make_lesson_word(work, classroom.class_id)
            with pytest.raises(error):
                end_lesson_word(work, classroom.class_id)
