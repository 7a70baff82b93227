"""Starting and ending a session, who is there, and the gate."""

from __future__ import annotations

import pytest

from journal.domain.errors import Invalid, NotFound, Refused
from journal.domain.sessions import GateCheck
from journal.records.group_contexts import get_group_context
from journal.records.work import open_work
from journal.services.lesson_words import make_lesson_word
from journal.services.sessions import (
    end_session,
    get_own_session,
    open_gate,
    set_absent,
    start_session,
)
from journal.store import classes
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.sentences import raises, what_of


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


def _start(work, classroom, distance="2.5 m", lanes="1"):  # type: ignore[no-untyped-def]  # noqa: ANN001, ANN202
    return start_session(
        work,
        classroom.class_id,
        challenge_id=classroom.challenge_id,
        distance=distance,
        lanes=lanes,
    )
