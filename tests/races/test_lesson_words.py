"""Lesson words made at once: one a class, and each opens one class only."""

from __future__ import annotations

import threading
import time
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import sqlalchemy as sa

from journal.domain.actors import OPERATOR
from journal.records.work import open_work
from journal.services.lesson_words import make_lesson_word
from journal.store import classes
from journal.store.classes import LessonWordRow
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.races.together import PEOPLE, all_at_once, second_server


def test_a_class_has_one_word(store: Store, classroom: Classroom, clock: StandingClock) -> None:
    """Eight taps on "new word" leave the last one; the board and the door show the same."""

    def make(server: Store, _person: int) -> str:
        with open_work(server, classroom.teacher, clock=clock) as work:
            return make_lesson_word(work, classroom.class_id)

    words, refused = all_at_once(store, make)
    with store.open_session(writing=False) as session:
        kept = session.scalars(sa.select(LessonWordRow.word)).all()

    assert (PEOPLE, []) == (len(words), list(refused))
    assert 1 == len(kept)
    assert kept[0] in words


def test_one_word_opens_one_class(store: Store, classroom: Classroom, clock: StandingClock) -> None:
    """Two schools draw the same word at the same moment: one gets it, the other draws again."""
    with open_work(store, OPERATOR, clock=clock) as work:
        other = make_classroom(work.session, clock(), nicknames=(("Hal", "Ida", "Jo"),))
    expires_at = clock() + timedelta(hours=2)
    asked = threading.Event()

    def take(server: Store, room: Classroom) -> bool:
        with server.open_session(writing=True, turn=room.school_id) as session:
            school_class = classes.get_class(session, room.class_id)
            asked.set()
            return classes.add_lesson_word(session, school_class, "copper-otter-472", expires_at)

    with second_server(store) as server, ThreadPoolExecutor(1) as pool:
        with store.open_session(writing=True, turn=classroom.school_id) as session:
            school_class = classes.get_class(session, classroom.class_id)
            assert classes.add_lesson_word(session, school_class, "copper-otter-472", expires_at)
            late = pool.submit(take, server, other)
            # Another school does not wait for this one, until both want the same word.
            assert asked.wait(timeout=2) is not store.is_sqlite
            time.sleep(0.2)
        assert late.result() is False
