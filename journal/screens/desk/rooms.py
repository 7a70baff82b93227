"""Who is in the room of a running session: groups, tablets, and the practice of each child."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from journal.content.session_words import get_session_text
from journal.domain.classes import SchoolClass
from journal.domain.groups import Group
from journal.domain.sessions import Session
from journal.records.work import Work
from journal.screens.desk.tablets import TabletsPage, prepare_tablets
from journal.services.boards import find_groups_in
from journal.store import groups
from journal.store.trial_counts import count_practice_of_students

#: More dots than these say no more than the figure beside them.
MOST_DOTS = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomMember:
    """A child: the mark's strokes, and the practice it has had, as dots and as a figure."""

    nickname: str
    strokes: int
    trials: int
    dots: int
    is_absent: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomGroup:
    """A group, whether a tablet of it is in, and its members."""

    number: int
    name: str
    is_in: bool
    members: tuple[RoomMember, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomView:
    """Who is in."""

    heading: str
    groups: tuple[RoomGroup, ...]
    at_door: TabletsPage
    practice: str
    practice_hint: str


def view_room(work: Work, school_class: SchoolClass, session: Session) -> RoomView | None:
    """Return who is in the room; None where the session has ended."""
    if not session.is_running:
        return None
    language = school_class.language
    shelf = groups.groups_of_class(work.session, school_class.id)
    inside = find_groups_in(work, school_class.id)
    practice = count_practice_of_students(work.session, session.challenge_id)
    return RoomView(
        heading=get_session_text(language, "room", "groups", here=len(inside), all=len(shelf)),
        groups=tuple(
            RoomGroup(
                number=group.number,
                name=group.name,
                is_in=group.id in inside,
                members=_members(group, session, practice),
            )
            for group in shelf
        ),
        at_door=prepare_tablets(work, school_class.id, session.id),
        practice=get_session_text(language, "room", "practice"),
        practice_hint=get_session_text(language, "room", "practice_hint"),
    )


def _members(group: Group, session: Session, practice: dict[UUID, int]) -> tuple[RoomMember, ...]:
    strokes = group.strokes
    return tuple(
        RoomMember(
            nickname=member.nickname,
            strokes=strokes[member.student_id],
            trials=practice.get(member.student_id, 0),
            dots=min(practice.get(member.student_id, 0), MOST_DOTS),
            is_absent=member.student_id in session.absent_student_ids,
        )
        for member in group.present_members
    )
