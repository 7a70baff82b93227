"""Two that start a session at once: one session runs."""

from __future__ import annotations

import pytest
import sqlalchemy as sa

from journal.domain.errors import Clash, NotKept, Refused
from journal.domain.sessions import GateCheck, Session, SessionEntry
from journal.records.work import open_work
from journal.services.sessions import end_session, open_gate, start_session
from journal.store import classes, sessions
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.races.together import PEOPLE, all_at_once
from tests.sentences import raises, sentence_of


def _end(store: Store, room: Classroom, clock: StandingClock) -> None:
    with open_work(store, room.teacher, clock=clock) as work:
        end_session(work, room.session_id)


def test_one_session_runs_whoever_starts_it(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """A double tap, or the same teacher on two devices, starts one; the others are told."""
    _end(store, classroom, clock)

    def start(server: Store, _person: int) -> Session:
        with open_work(server, classroom.teacher, clock=clock) as work:
            return start_session(
                work,
                classroom.class_id,
                challenge_id=classroom.challenge_id,
                distance="2 m",
                lanes="1",
            )

    started, refused = all_at_once(store, start)
    with store.open_session(writing=False) as session:
        every = sessions.sessions_of_class(session, classroom.class_id)

    assert [2] == [one.number for one in started]
    assert [1, 2] == [one.number for one in every]
    assert ["Session 2 is still running. End it first."] * (PEOPLE - 1) == [
        sentence_of(one) for one in refused
    ]
    assert {Refused} == {type(one) for one in refused}


def test_the_database_keeps_a_second_session_from_running(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Whatever a service overlooks, a unique key stands behind it and says so in words."""
    entry = SessionEntry(challenge_id=classroom.challenge_id, distance_mm=2000, lanes=1)

    def add_another() -> None:
        with store.open_session(writing=True) as session:
            school_class = classes.get_class(session, classroom.class_id)
            sessions.add_session(session, school_class, entry, panel="", started_at=clock())

    with raises(Clash, match="Somebody else did the same just now"):
        add_another()
    _end(store, classroom, clock)
    add_another()


def test_ending_and_opening_at_once_leaves_no_gate_open_in_an_ended_session(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Either the gate was opened before the end, or it is refused: never after it."""

    def act(server: Store, person: int) -> None:
        with open_work(server, classroom.teacher, clock=clock) as work:
            if person:
                open_gate(work, classroom.session_id, list(GateCheck))
            else:
                end_session(work, classroom.session_id)

    _, refused = all_at_once(store, act)
    with store.open_session(writing=False) as session:
        ended = sessions.get_session(session, classroom.session_id)

    assert ended.ended_at is not None
    assert ended.gate is not None
    assert ended.gate.opened_at <= ended.ended_at
    assert not [one for one in refused if isinstance(one, NotKept)]


def test_a_reader_sees_one_moment(store: Store, classroom: Classroom, clock: StandingClock) -> None:
    """What is committed between two statements of a page is in neither of them."""
    with store.open_session(writing=False) as session:
        before = classes.find_version(session, classroom.class_id)
        with store.open_session(writing=True) as writer:
            classes.bump_version(writer, classroom.class_id)
        session.expire_all()
        assert before == classes.find_version(session, classroom.class_id)
    with store.open_session(writing=False) as session:
        assert before != classes.find_version(session, classroom.class_id)
        if not store.is_sqlite:
            with pytest.raises(sa.exc.InternalError, match="read-only"):
                classes.bump_version(session, classroom.class_id)
