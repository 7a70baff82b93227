"""Tablets at the door: coming in by the lesson word, waiting, let in, sent out."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from uuid import UUID

from journal.domain.actors import Actor, Role, Tablet, TabletState
from journal.domain.classes import Door
from journal.domain.errors import NotFound
from journal.domain.groups import Group
from journal.domain.messages import Message
from journal.domain.permits import require_signed_in
from journal.records.work import Work
from journal.services.classes import get_own_class
from journal.services.lesson_words import open_door
from journal.services.sign_ins import IDLE_LIMIT, WHOLE_LIMIT, start_sign_in
from journal.store import challenges, classes, groups, sign_ins


class Wait(StrEnum):
    """What a tablet waits for on its way from the door to its journal."""

    #: The teacher has not let it in yet.
    LET_IN = "let in"
    #: The class has no challenge yet, so there is no journal to open.
    CHALLENGE = "challenge"
    NOTHING = "nothing"


def come_in(work: Work, word: str, group_id: UUID, student_id: UUID) -> tuple[str, TabletState]:
    """Sign a tablet in for a group, as the child who tapped; return its token and its state.

    The lesson word is the permit: raises Invalid once it has expired, NotFound for a group of
    another class or a child who is not in the group.
    """
    _, school_class = open_door(work, word)
    group = get_group_at_door(work, school_class.id, group_id)
    if not group.has(student_id):
        message = Message("tablets.name_is_not_in_this_group")
        raise NotFound(message)
    state = TabletState.IN if school_class.door is Door.OPEN else TabletState.WAITING
    actor = Actor(
        role=Role.TABLET,
        school_id=school_class.school_id,
        class_id=school_class.id,
        group_id=group.id,
        student_id=student_id,
        tablet_state=state,
    )
    token = start_sign_in(work, actor)
    classes.bump_version(work.session, school_class.id)
    return token, state


def get_group_at_door(work: Work, class_id: UUID, group_id: UUID) -> Group:
    """Return a group of the class whose door is open; raise NotFound for any other."""
    group = groups.get_group(work.session, group_id)
    if group.class_id != class_id:
        message = Message("groups.no_such_group_behind_this_door")
        raise NotFound(message)
    return group


def find_way(work: Work) -> tuple[UUID, Wait]:
    """Return the asking tablet's group and what it waits for.

    Raises SignedOut once it was sent out, NotFound where the asker is no tablet.
    """
    require_signed_in(work.actor)
    actor = work.actor
    if actor.group_id is None or actor.class_id is None:
        message = Message("tablets.page_is_for_a_tablet_that_waits")
        raise NotFound(message)
    if actor.tablet_state is not TabletState.IN:
        return actor.group_id, Wait.LET_IN
    if not challenges.challenges_of_class(work.session, actor.class_id):
        return actor.group_id, Wait.CHALLENGE
    return actor.group_id, Wait.NOTHING


def set_tablet(work: Work, class_id: UUID, sign_in_id: UUID, state: TabletState) -> None:
    """Let a tablet of the class in, or send it out."""
    get_own_class(work, class_id)
    if not sign_ins.set_tablet_state(work.session, class_id, sign_in_id, state):
        message = Message("tablets.tablet_is_not_at_the_door_any_more")
        raise NotFound(message)
    classes.bump_version(work.session, class_id)


def let_in_waiting(work: Work, class_id: UUID) -> int:
    """Let in every tablet that waits at the door and return how many there were."""
    tablets = list_tablets(work, class_id)
    waiting = [tablet for tablet in tablets if tablet.state is TabletState.WAITING]
    for tablet in waiting:
        sign_ins.set_tablet_state(work.session, class_id, tablet.sign_in_id, TabletState.IN)
    if waiting:
        classes.bump_version(work.session, class_id)
    return len(waiting)


def list_tablets(work: Work, class_id: UUID) -> tuple[Tablet, ...]:
    """Return the class's tablets whose sign-in still lasts: waiting ones first, then the newest."""
    get_own_class(work, class_id)
    order = {TabletState.WAITING: 0, TabletState.IN: 1, TabletState.OUT: 2}
    lasting = find_lasting(work, class_id)
    return tuple(sorted(lasting, key=lambda tablet: order[tablet.state]))


def find_lasting(work: Work, class_id: UUID) -> tuple[Tablet, ...]:
    """Return the class's tablets whose sign-in still lasts; who may know is asked by the caller."""
    now = work.now()
    found: Iterable[Tablet] = sign_ins.tablets_of_class(
        work.session, class_id, now - WHOLE_LIMIT[Role.TABLET]
    )
    idle = IDLE_LIMIT[Role.TABLET]
    return tuple(tablet for tablet in found if now - tablet.last_seen_at <= idle)
