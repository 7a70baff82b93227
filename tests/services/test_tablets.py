"""Tablets at the door."""

from __future__ import annotations

from uuid import uuid4

import pytest

from journal.domain.actors import NOBODY, TabletState
from journal.domain.errors import Invalid, NotAllowed, NotFound, SignedOut
from journal.records.group_contexts import get_group_context
from journal.records.work import open_work
from journal.screens.door.lesson_words import prepare_wait
from journal.services.challenges import open_challenge
from journal.services.classes import make_class, set_door
from journal.services.groups import deal_groups
from journal.services.lesson_words import make_lesson_word
from journal.services.rosters import add_students
from journal.services.sign_ins import actor_of
from journal.services.tablets import (
    Wait,
    come_in,
    find_way,
    let_in_waiting,
    list_tablets,
    set_tablet,
)
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.sentences import raises
from tests.services.test_classes import another_teacher


@pytest.fixture
def word(store: Store, clock: StandingClock, classroom: Classroom) -> str:
    """Return the class's lesson word."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        return make_lesson_word(work, classroom.class_id)


def _come_in(store: Store, clock: StandingClock, classroom: Classroom, word: str) -> str:
    with open_work(store, NOBODY, clock=clock) as work:
        token, _ = come_in(work, word, classroom.group_ids[0], classroom.student_ids[0][1])
    return token


def test_an_open_door_lets_a_tablet_in(
    store: Store, clock: StandingClock, classroom: Classroom, word: str
) -> None:
    """The tablet is signed in for its group, as the child who tapped."""
    actor = actor_of(store, _come_in(store, clock, classroom, word), clock)
    assert classroom.group_ids[0] == actor.group_id
    assert classroom.student_ids[0][1] == actor.student_id
    with open_work(store, actor, clock=clock) as work:
        assert classroom.group_ids[0] == get_group_context(work, classroom.group_ids[0]).group.id
        assert (classroom.group_ids[0], Wait.NOTHING) == find_way(work)
        with pytest.raises(NotFound):
            get_group_context(work, classroom.group_ids[1])


def test_a_tablet_that_knocks_waits_until_it_is_let_in(
    store: Store, clock: StandingClock, classroom: Classroom, word: str
) -> None:
    """It sees nothing of the group before, and all of it after; sent out, it is told so."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        set_door(work, classroom.class_id, "knock")
    token = _come_in(store, clock, classroom, word)
    with open_work(store, actor_of(store, token, clock), clock=clock) as work:
        assert (classroom.group_ids[0], Wait.LET_IN) == find_way(work)
        with raises(NotAllowed, match="Please wait"):
            get_group_context(work, classroom.group_ids[0])
    with open_work(store, classroom.teacher, clock=clock) as work:
        assert 1 == let_in_waiting(work, classroom.class_id)
        assert 0 == let_in_waiting(work, classroom.class_id)
        (tablet,) = list_tablets(work, classroom.class_id)
        assert TabletState.IN is tablet.state
    with open_work(store, actor_of(store, token, clock), clock=clock) as work:
        assert Wait.NOTHING is find_way(work)[1]
    with open_work(store, classroom.teacher, clock=clock) as work:
        set_tablet(work, classroom.class_id, tablet.sign_in_id, TabletState.OUT)
    with (
        open_work(store, actor_of(store, token, clock), clock=clock) as work,
        raises(SignedOut, match="signed this tablet out"),
    ):
        find_way(work)


def test_waiting_tablets_stand_first_and_old_ones_go(
    store: Store, clock: StandingClock, classroom: Classroom, word: str
) -> None:
    """A sign-in that has run out is no tablet at the door any more."""
    _come_in(store, clock, classroom, word)
    with open_work(store, classroom.teacher, clock=clock) as work:
        set_door(work, classroom.class_id, "knock")
    clock.move(minutes=60)
    _come_in(store, clock, classroom, word)
    with open_work(store, classroom.teacher, clock=clock) as work:
        states = [tablet.state for tablet in list_tablets(work, classroom.class_id)]
        assert [TabletState.WAITING, TabletState.IN] == states
        clock.move(minutes=31)
        (left,) = list_tablets(work, classroom.class_id)
        assert TabletState.WAITING is left.state


def test_the_word_group_and_name_must_belong_together(
    store: Store, clock: StandingClock, classroom: Classroom, word: str
) -> None:
    """An old word, another class's group and a child of another group open nothing."""
    group_id, student_id = classroom.group_ids[0], classroom.student_ids[0][0]
    with open_work(store, NOBODY, clock=clock) as work:
        with pytest.raises(Invalid):
            come_in(work, "copper-otter-000", group_id, student_id)
        with pytest.raises(NotFound):
            come_in(work, word, uuid4(), student_id)
        with raises(NotFound, match="not in this group"):
            come_in(work, word, group_id, classroom.student_ids[1][0])


def test_only_the_own_teacher_minds_the_door(
    store: Store, clock: StandingClock, classroom: Classroom, word: str
) -> None:
    """Another teacher's class and a tablet of another class are not found."""
    _come_in(store, clock, classroom, word)
    with open_work(store, classroom.teacher, clock=clock) as work:
        (tablet,) = list_tablets(work, classroom.class_id)
        with pytest.raises(NotFound):
            set_tablet(work, classroom.class_id, uuid4(), TabletState.OUT)
    for actor, error in (
        (another_teacher(store, classroom), NotFound),
        (classroom.tablets[0], NotAllowed),
    ):
        with open_work(store, actor, clock=clock) as work:
            with pytest.raises(error):
                list_tablets(work, classroom.class_id)
            with pytest.raises(error):
                set_tablet(work, classroom.class_id, tablet.sign_in_id, TabletState.OUT)
            with pytest.raises(error):
                let_in_waiting(work, classroom.class_id)
    with open_work(store, classroom.teacher, clock=clock) as work, pytest.raises(NotFound):
        find_way(work)


def test_a_tablet_waits_for_the_first_challenge(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Before that its group has no journal to open: the tablet is told so and goes on later."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        made = make_class(
            work,
            {"name": "6B", "band": "2", "language": "en", "retention_date": "2031-07-31"},
        )
        pim, *_ = add_students(work, made.id, "Pim\nJuno\nBo")
        (group,) = deal_groups(work, made.id)
        word = make_lesson_word(work, made.id)
    with open_work(store, NOBODY, clock=clock) as work:
        token, _ = come_in(work, word, group.id, pim.id)
    actor = actor_of(store, token, clock)
    with open_work(store, actor, clock=clock) as work:
        assert (group.id, Wait.CHALLENGE) == find_way(work)
        assert "Your teacher opens a challenge." == prepare_wait(work).wait
    with open_work(store, classroom.teacher, clock=clock) as work:
        open_challenge(work, made.id, "paper_bridge")
    with open_work(store, actor, clock=clock) as work:
        assert (group.id, Wait.NOTHING) == find_way(work)
