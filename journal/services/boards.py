"""The board: what the projector shows of a class, with a sign-in that opens nothing else."""

from __future__ import annotations

from uuid import UUID

from journal.domain.actors import Actor, Role, TabletState
from journal.domain.classes import SchoolClass
from journal.domain.permits import require_may_see_board
from journal.domain.sessions import LaneState
from journal.records.work import Work
from journal.services.classes import get_own_class
from journal.services.sign_ins import add_sign_in
from journal.services.tablets import find_lasting
from journal.store import classes, groups, sessions


def put_up_board(work: Work, class_id: UUID) -> str | None:
    """Sign a board of the teacher's class in until its session ends, and return its token.

    The teacher's own sign-in stays beside it. None where no session runs.
    """
    school_class = get_own_class(work, class_id)
    if sessions.find_running(work.session, class_id) is None:
        return None
    actor = Actor(
        role=Role.BOARD,
        school_id=school_class.school_id,
        teacher_id=school_class.teacher_id,
        class_id=class_id,
    )
    return add_sign_in(work, actor)


def get_class_of_board(work: Work, class_id: UUID) -> SchoolClass:
    """Return the class whose board it is; raise NotFound for another one's."""
    school_class = classes.get_class(work.session, class_id)
    require_may_see_board(work.actor, school_class)
    return school_class


def find_groups_in(work: Work, class_id: UUID) -> frozenset[UUID]:
    """Return the groups of which a tablet is in, with a child who still belongs there."""
    shelf = {group.id: group for group in groups.groups_of_class(work.session, class_id)}
    return frozenset(
        tablet.group_id
        for tablet in find_lasting(work, class_id)
        if tablet.state is TabletState.IN
        and (tablet.student_id is None or shelf[tablet.group_id].has(tablet.student_id))
    )


def find_lane_of_board(work: Work, class_id: UUID) -> tuple[str, LaneState]:
    """Return the lane of the class and a mark that changes with it."""
    get_class_of_board(work, class_id)
    found = sessions.find_lane(work.session, class_id)
    if found is None:
        return LaneState.NONE.value, LaneState.NONE
    session_id, state = found
    return f"{session_id}-{state.value}", state
