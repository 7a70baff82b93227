"""Starting and ending a session, who is there, and the gate."""

from __future__ import annotations

from uuid import UUID

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.errors import Invalid, NotFound, Refused
from journal.domain.lesson_times import find_times
from journal.domain.sessions import GateCheck, LaneState, Session
from journal.records.group_contexts import get_group_context
from journal.records.work import Work, open_work
from journal.services.lesson_words import make_lesson_word
from journal.services.sessions import (
    end_session,
    get_own_session,
    keep_texts,
    open_gate,
    pause_session,
    resume_session,
    set_absent,
    start_session,
)
from journal.store import classes
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.sentences import raises, sentences_of, what_of


def test_the_next_session_starts_once_the_last_one_has_ended(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Only one session runs at a time; the numbers follow each other; the gate is shut anew."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        with raises(Refused, match="End it first"):
            _start(work, classroom)
        end_session(work, classroom.session_id)
        started = _start(work, classroom, distance="2 m", lanes="2")
    assert (2, 2000, 2, None) == (started.number, started.distance_mm, started.lanes, started.gate)


def test_the_gate_opens_only_with_every_line_ticked(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """What is not ticked yet is named; then launching waits no longer."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        end_session(work, classroom.session_id)
        session = _start(work, classroom)
        assert get_group_context(work, classroom.group_ids[0]).waits_for_gate
        with pytest.raises(Invalid) as caught:
            open_gate(work, session.id, [GateCheck.GOGGLES, GateCheck.LANE])
        assert "Allergies" in what_of(caught.value.problems[0])
        open_gate(work, session.id, list(GateCheck))
        assert not get_group_context(work, classroom.group_ids[0]).waits_for_gate


def test_who_is_absent_is_noted_and_can_change(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """An absent member is not among the members of the context."""
    absent = classroom.student_ids[0][1]
    with open_work(store, classroom.teacher, clock=clock) as work:
        set_absent(work, classroom.session_id, [absent])
        context = get_group_context(work, classroom.group_ids[0])
        assert absent not in {member.student_id for member in context.members}
        set_absent(work, classroom.session_id, [])
        assert 3 == len(get_group_context(work, classroom.group_ids[0]).members)
        with pytest.raises(NotFound):
            set_absent(work, classroom.session_id, [classroom.class_id])


def test_says_what_is_wrong_with_distance_and_lanes(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Both problems come back together, each at its field."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        end_session(work, classroom.session_id)
        with pytest.raises(Invalid) as caught:
            _start(work, classroom, distance="far", lanes="0")
    assert {"distance", "lanes"} == set(caught.value.by_field())


def test_an_ended_session_takes_no_more_changes(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Gate and presence belong to a session that runs; ending twice does nothing."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        end_session(work, classroom.session_id)
        ended_at = get_own_session(work, classroom.session_id)[0].ended_at
        end_session(work, classroom.session_id)
        assert ended_at == get_own_session(work, classroom.session_id)[0].ended_at
        with raises(Refused, match="has ended"):
            open_gate(work, classroom.session_id, list(GateCheck))


def test_the_lesson_word_ends_with_the_session(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Whoever still knows the word after the lesson does not come in by it."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        make_lesson_word(work, classroom.class_id)
        end_session(work, classroom.session_id)
        assert classes.find_word(work.session, classroom.class_id, work.now()) is None


def test_a_paused_session_goes_on_where_it_stood(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Its lane closes and stays closed, its minutes stand still, its word stays."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        end_session(work, classroom.session_id)
        session = _start(work, classroom)
        open_gate(work, session.id, list(GateCheck))
        make_lesson_word(work, classroom.class_id)
    clock.move(minutes=10)
    with open_work(store, classroom.teacher, clock=clock) as work:
        pause_session(work, session.id)
        clock.move(minutes=5)
        pause_session(work, session.id)
        with raises(Invalid, match="Go on with it first"):
            open_gate(work, session.id, list(GateCheck))
        clock.move(minutes=10)
        assert 35 == _minutes_left(work, session.id)
        resume_session(work, session.id)
        resume_session(work, session.id)
        after = get_own_session(work, session.id)[0]
        assert (False, LaneState.CLOSED) == (after.is_paused, after.lane)
        assert classes.find_word(work.session, classroom.class_id, work.now()) is not None
    clock.move(minutes=5)
    with open_work(store, classroom.teacher, clock=clock) as work:
        assert 30 == _minutes_left(work, session.id)


def test_a_session_ended_by_mistake_is_taken_up_again(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """It is the same session, with its lane closed; what is over for long is over."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        end_session(work, classroom.session_id)
        clock.move(minutes=3)
        resume_session(work, classroom.session_id)
        again = get_own_session(work, classroom.session_id)[0]
        assert (True, LaneState.CLOSED) == (again.is_running, again.lane)
        end_session(work, classroom.session_id)
        other = _start(work, classroom)
        with raises(Refused, match="End that one first"):
            resume_session(work, classroom.session_id)
        end_session(work, other.id)
        with raises(Refused, match="ended too long ago"):
            resume_session(work, classroom.session_id)
        clock.move(hours=4)
        with raises(Refused, match="ended too long ago"):
            resume_session(work, other.id)


def test_the_length_is_proposed_by_band_and_asked_in_bounds(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Nothing written is the usual length; what is out of bounds is named at its field."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        end_session(work, classroom.session_id)
        with pytest.raises(Invalid) as caught:
            _start(work, classroom, length="500")
        assert {"length_min"} == set(caught.value.by_field())
        assert 45 == _start(work, classroom).length_min


def test_lines_for_today_and_notes_are_kept(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Empty lines go; too many, too long ones and endless notes are named, and nothing is kept."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        keep_texts(work, classroom.session_id, " Look at  our hits \n\nClean up\n", "Swift: why?")
        with pytest.raises(Invalid) as caught:
            keep_texts(work, classroom.session_id, "a\nb\nc\n" + "e" * 37, "n" * 10_000)
        kept = get_own_session(work, classroom.session_id)[0]
    assert {"plan", "notes"} == set(caught.value.by_field())
    assert 2 == len(sentences_of(caught.value)["plan"])
    assert (("Look at our hits", "Clean up"), "Swift: why?") == (kept.plan_lines, kept.notes)


def test_a_bridge_is_asked_for_no_distance_and_no_lanes(store: Store, clock: StandingClock) -> None:
    """Whatever a form sends for them is not read."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), challenge_key="paper_bridge")
    with open_work(store, room.teacher, clock=clock) as work:
        end_session(work, room.session_id)
        started = _start(work, room, distance="far", lanes="none")
    assert (None, 1) == (started.distance_mm, started.lanes)


def _minutes_left(work: Work, session_id: UUID) -> int:
    times = find_times(get_own_session(work, session_id)[0], work.now())
    assert times is not None
    return times.minutes_left


def _start(
    work: Work, room: Classroom, distance: str = "2.5 m", lanes: str = "1", length: str = ""
) -> Session:
    return start_session(
        work,
        room.class_id,
        challenge_id=room.challenge_id,
        distance=distance,
        lanes=lanes,
        length=length,
    )
