"""Children moved at once: five is the limit, and nobody is in two groups."""

from __future__ import annotations

from uuid import UUID

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.errors import Clash, Refused
from journal.domain.groups import MOST_MEMBERS, Group
from journal.records.work import open_work
from journal.services.groups import make_group, move_student
from journal.store import groups
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.races.together import all_at_once
from tests.sentences import sentence_of


@pytest.fixture
def room(store: Store, clock: StandingClock) -> Classroom:
    """Return a class with a group of three and eight children in two others."""
    names = (("Ada", "Ben", "Cleo"), ("Dara", "Eli", "Finn", "Gia"), ("Hal", "Ida", "Jo", "Kim"))
    with open_work(store, OPERATOR, clock=clock) as work:
        return make_classroom(work.session, clock(), nicknames=names)


def _members(store: Store, room: Classroom) -> list[tuple[Group, list[UUID]]]:
    with store.open_session(writing=False) as session:
        return [
            (group, [member.student_id for member in group.present_members])
            for group in groups.groups_of_class(session, room.class_id)
        ]


def test_no_sixth_member_gets_in(store: Store, room: Classroom, clock: StandingClock) -> None:
    """Eight join a group of three at the same moment: two do, six are told why not."""
    coming = [*room.student_ids[1], *room.student_ids[2]]

    def move(server: Store, person: int) -> UUID:
        with open_work(server, room.teacher, clock=clock) as work:
            move_student(work, room.class_id, coming[person], room.group_ids[0])
        return coming[person]

    moved, refused = all_at_once(store, move)
    _, members = _members(store, room)[0]

    assert (MOST_MEMBERS, 2) == (len(members), len(moved))
    assert {*room.student_ids[0], *moved} == set(members)
    assert 6 == len(refused)
    assert all(
        isinstance(one, Refused) and "5 members already" in sentence_of(one) for one in refused
    )


def test_nobody_is_in_two_groups(store: Store, room: Classroom, clock: StandingClock) -> None:
    """The same children are made a group of eight times: each is in one group in the end."""
    chosen = room.student_ids[0]

    def make(server: Store, person: int) -> Group:
        with open_work(server, room.teacher, clock=clock) as work:
            return make_group(work, room.class_id, chosen, f"Team {person}")

    made, refused = all_at_once(store, make)
    every = [student_id for _, members in _members(store, room) for student_id in members]

    assert (8, []) == (len(made), list(refused))
    assert 8 == len({group.number for group in made})
    assert len(every) == len(set(every)) == 11


def test_the_database_keeps_a_child_in_one_group(
    store: Store, room: Classroom, clock: StandingClock
) -> None:
    """Whatever a service overlooks, a unique key stands behind it."""

    def join_second() -> None:
        with store.open_session(writing=True) as session:
            group = groups.get_group(session, room.group_ids[1])
            groups.join_group(session, group, [room.student_ids[0][0]], clock())

    with pytest.raises(Clash):
        join_second()
    with store.open_session(writing=True) as session:
        groups.leave_groups(session, room.student_ids[0][0], clock())
    join_second()
