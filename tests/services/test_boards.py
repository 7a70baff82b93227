"""The sign-in of a board: for one page, until the session ends."""

from __future__ import annotations

import pytest

from journal.domain.actors import NOBODY, Role, TabletState
from journal.domain.errors import NotAllowed, NotFound
from journal.records.work import open_work
from journal.services.boards import find_groups_in, get_class_of_board, put_up_board
from journal.services.classes import get_own_class
from journal.services.lesson_words import make_lesson_word
from journal.services.rosters import let_student_leave
from journal.services.sessions import end_session
from journal.services.sign_ins import actor_of
from journal.services.tablets import come_in, find_lasting, set_tablet
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom


def _put_up(store: Store, clock: StandingClock, room: Classroom) -> str:
    with open_work(store, room.teacher, clock=clock) as work:
        token = put_up_board(work, room.class_id)
    assert token is not None
    return token


def test_a_board_lasts_unused_until_its_session_ends(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """An hour of polling ends a teacher's sign-in, not a board; the end of the session does."""
    token = _put_up(store, clock, classroom)
    clock.move(hours=3)
    board = actor_of(store, token, clock, is_use=False)
    assert (Role.BOARD, classroom.class_id) == (board.role, board.class_id)
    with open_work(store, classroom.teacher, clock=clock) as work:
        end_session(work, classroom.session_id)
    assert actor_of(store, token, clock) is NOBODY
    with open_work(store, classroom.teacher, clock=clock) as work:
        assert put_up_board(work, classroom.class_id) is None


def test_a_board_reads_its_own_class_and_nothing_else(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """It names the teacher whose sign-ins end together, and is no teacher all the same."""
    board = actor_of(store, _put_up(store, clock, classroom), clock)
    with open_work(store, classroom.teacher, clock=clock) as work:
        other = make_classroom(work.session, clock())
    assert board.teacher_id == classroom.teacher_id
    with open_work(store, board, clock=clock) as work:
        get_class_of_board(work, classroom.class_id)
        with pytest.raises(NotFound):
            get_class_of_board(work, other.class_id)
        with pytest.raises(NotAllowed):
            get_own_class(work, classroom.class_id)
        with pytest.raises(NotAllowed):
            put_up_board(work, classroom.class_id)


def test_a_group_is_in_while_a_tablet_of_it_is(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Not one that waits, was sent out, lies unused, or whose child has left the group."""
    group, student = classroom.group_ids[0], classroom.student_ids[0][0]
    with open_work(store, classroom.teacher, clock=clock) as work:
        word = make_lesson_word(work, classroom.class_id)
        assert frozenset() == find_groups_in(work, classroom.class_id)
        come_in(work, word, group, student)
        assert {group} == find_groups_in(work, classroom.class_id)
        (tablet,) = find_lasting(work, classroom.class_id)
        sign_in_id = tablet.sign_in_id
        set_tablet(work, classroom.class_id, sign_in_id, TabletState.OUT)
        assert frozenset() == find_groups_in(work, classroom.class_id)
        set_tablet(work, classroom.class_id, sign_in_id, TabletState.IN)
        assert {group} == find_groups_in(work, classroom.class_id)
        let_student_leave(work, classroom.class_id, student)
        assert frozenset() == find_groups_in(work, classroom.class_id)
