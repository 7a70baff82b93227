"""The teacher was at a group, or something nearly went badly there."""

from __future__ import annotations

from uuid import UUID

from journal.domain.classes import SchoolClass
from journal.domain.errors import Invalid, NotFound
from journal.domain.groups import Group
from journal.domain.ladders import ClimbEnd
from journal.domain.messages import Message
from journal.domain.permits import require_may_teach
from journal.domain.sessions import CloseReason
from journal.domain.visits import NearMiss, Visit
from journal.records.group_contexts import get_present_challenge
from journal.records.work import Work
from journal.services.lanes import shut_lane
from journal.store import classes, groups, ladders, sessions, visits

LONGEST_NOTE = 600


def log_visit(work: Work, group_id: UUID, *, reason: str = "", note: str = "") -> Visit:
    """Keep that the teacher is at the group; a group that called the teacher leaves the ladder."""
    group, school_class = _get_own_group(work, group_id)
    at = work.now()
    visit = visits.add_visit(work.session, group, at=at, reason=reason[:200], note=_read_note(note))
    challenge, _ = get_present_challenge(work, school_class)
    if challenge.id is not None:
        climb = ladders.find_open_climb(work.session, group_id, challenge.id)
        if climb is not None and climb.wants_teacher:
            ladders.end_climb(work.session, climb.id, ClimbEnd.TEACHER_CAME, at)
    classes.bump_version(work.session, school_class.id)
    return visit


def note_visit(work: Work, group_id: UUID, visit_id: UUID, note: str) -> None:
    """Put a note to a visit."""
    _, school_class = _get_own_group(work, group_id)
    if not visits.set_visit_note(work.session, group_id, visit_id, _read_note(note)):
        message = Message("visits.no_such_visit")
        raise NotFound(message)
    classes.bump_version(work.session, school_class.id)


def log_near_miss(work: Work, group_id: UUID, note: str = "") -> NearMiss:
    """Keep a near-miss: the time, and a note without names; it closes the lane."""
    group, school_class = _get_own_group(work, group_id)
    near_miss = visits.add_near_miss(work.session, group, at=work.now(), note=_read_note(note))
    running = sessions.find_running(work.session, school_class.id)
    if running is not None:
        shut_lane(work, running, CloseReason.NEAR_MISS)
    classes.bump_version(work.session, school_class.id)
    return near_miss


def note_near_miss(work: Work, group_id: UUID, near_miss_id: UUID, note: str) -> None:
    """Put a note to a near-miss."""
    _, school_class = _get_own_group(work, group_id)
    if not visits.set_near_miss_note(work.session, group_id, near_miss_id, _read_note(note)):
        message = Message("visits.no_such_near_miss")
        raise NotFound(message)
    classes.bump_version(work.session, school_class.id)


def name_group(work: Work, group_id: UUID) -> str:
    """Return the name of a group of the teacher's, for the sentence that says what was kept."""
    group, _ = _get_own_group(work, group_id)
    return group.name


def _get_own_group(work: Work, group_id: UUID) -> tuple[Group, SchoolClass]:
    group = groups.get_group(work.session, group_id)
    school_class = classes.get_class(work.session, group.class_id)
    require_may_teach(work.actor, school_class)
    return group, school_class


def _read_note(note: str) -> str:
    note = note.strip()
    if len(note) > LONGEST_NOTE:
        what = Message(
            "visits.note_holds_up_to_characters", longest_note=LONGEST_NOTE, count=len(note)
        )
        raise Invalid.at("note", Message("visits.shorten_it", what=what))
    return note
