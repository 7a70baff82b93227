"""Who may do what: pure questions with one answer, asked first by every service.

Another one's object is not found rather than forbidden: nobody learns that it exists.
"""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from journal.domain.actors import Actor, Role, TabletState
from journal.domain.classes import SchoolClass
from journal.domain.errors import NotAllowed, NotFound, SignedOut
from journal.domain.groups import Group
from journal.domain.messages import Message


def require_signed_in(actor: Actor) -> None:
    """Raise SignedOut unless somebody is signed in."""
    if actor.role is Role.NOBODY:
        message = Message("permits.nobody_is_signed_in_here")
        raise SignedOut(message)
    if actor.left_at is not None:
        message = Message("permits.you_are_not_in_this_group_any_more")
        raise SignedOut(message)
    if actor.role is Role.TABLET and actor.tablet_state is TabletState.OUT:
        message = Message("permits.your_teacher_has_signed_this_tablet_out")
        raise SignedOut(message)


def require_operator(actor: Actor) -> None:
    """Raise NotAllowed unless the terminal of this machine is asking."""
    if actor.role is not Role.OPERATOR:
        message = Message("permits.only_the_terminal_of_the_journals_own")
        raise NotAllowed(message)


def require_teacher(actor: Actor) -> UUID:
    """Return the teacher's id; raise unless a teacher is signed in."""
    require_signed_in(actor)
    if actor.role is not Role.TEACHER or actor.teacher_id is None:
        message = Message("permits.page_is_for_the_teacher")
        raise NotAllowed(message)
    return actor.teacher_id


def require_may_teach(actor: Actor, school_class: SchoolClass) -> None:
    """Raise unless the class is this teacher's own."""
    require_signed_in(actor)
    if actor.role is Role.OPERATOR:
        return
    if require_teacher(actor) != school_class.teacher_id:
        message = Message("classes.no_such_class")
        raise NotFound(message)


def require_may_see_board(actor: Actor, school_class: SchoolClass) -> None:
    """Raise unless the board is the class's own, or its teacher looks."""
    require_signed_in(actor)
    if actor.role is not Role.BOARD:
        require_may_teach(actor, school_class)
    elif actor.class_id != school_class.id:
        raise NotFound(Message("boards.no_such_class"))


def require_may_see_group(actor: Actor, group: Group, school_class: SchoolClass) -> None:
    """Raise unless the group is the tablet's own or of the teacher's class."""
    require_signed_in(actor)
    if actor.role is Role.TABLET:
        require_own_tablet(actor, group.id)
    else:
        require_may_teach(actor, school_class)


def require_may_log(actor: Actor, group: Group, school_class: SchoolClass) -> None:
    """Raise unless the actor may enter something for the group."""
    require_may_see_group(actor, group, school_class)


def require_may_send(actor: Actor, made_at: datetime) -> None:
    """Raise unless the actor may send what was entered at a moment, perhaps long before.

    What was waiting on a tablet when its child left the group is taken all the same.
    """
    if actor.left_at is None or made_at >= actor.left_at:
        require_signed_in(actor)


def require_may_log_late(
    actor: Actor, group: Group, school_class: SchoolClass, made_at: datetime
) -> None:
    """Raise unless the actor may enter for the group what was entered at a moment."""
    if actor.left_at is not None and actor.group_id == group.id and made_at < actor.left_at:
        return
    require_may_log(actor, group, school_class)


def require_own_tablet(actor: Actor, group_id: UUID) -> None:
    """Raise unless the tablet is the group's own and was let in."""
    require_signed_in(actor)
    if actor.group_id != group_id:
        message = Message("groups.no_such_group")
        raise NotFound(message)
    if actor.tablet_state is not TabletState.IN:
        message = Message("permits.your_teacher_lets_this_tablet_in")
        raise NotAllowed(message)
