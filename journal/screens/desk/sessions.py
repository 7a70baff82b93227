"""What the session pages show: ready values, no rules."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from uuid import UUID

from journal.content.gates import get_session_words
from journal.content.session_words import get_session_text
from journal.content.shown_times import show_day
from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.group_contexts import challenge_id_of
from journal.domain.lengths import show_length
from journal.domain.sessions import Session
from journal.records.work import Work
from journal.screens.desk.frames import frame_class
from journal.screens.desk.lessons import LessonView, view_lesson
from journal.screens.desk.next_steps import find_next_step
from journal.screens.desk.parked_trials import describe_waiting_entries
from journal.screens.desk.rooms import RoomView, view_room
from journal.screens.desk.session_forms import (
    StartForm,
    find_chosen,
    list_students,
    view_start_form,
)
from journal.screens.frames import DeskFrame
from journal.screens.lanes import Checklist, LaneSwitch, view_checklist, view_switch
from journal.services.classes import get_own_class
from journal.services.sessions import get_own_session, may_take_up
from journal.store import challenges, groups, sessions

Errors = Mapping[str, list[str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionLine:
    """A session in the list."""

    id: UUID
    number: int
    challenge: str
    conditions: str
    state: str
    is_running: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionsPage:
    """The class's sessions and the form that starts the next one."""

    frame: DeskFrame
    class_id: UUID
    sessions: tuple[SessionLine, ...]
    running: SessionLine | None
    #: The last one, where it ended just now and can go on.
    take_up: SessionLine | None
    #: None while a session runs, and before there is a challenge.
    start: StartForm | None
    errors: Errors | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionPage:
    """One session: who is there, the gate, its end."""

    frame: DeskFrame
    session: Session
    conditions: str
    students: tuple[tuple[str, str, str], ...]
    absent: tuple[str, ...]
    launches: bool
    #: None where nothing is launched or loaded, or the session has ended.
    lane: LaneSwitch | None
    #: None while the lane is open.
    checklist: Checklist | None
    #: None where the session has ended.
    room: RoomView | None
    #: That trials came late and wait to be placed; "" where none does.
    late: str
    lesson: LessonView
    errors: Errors | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class EndPage:
    """The question that stands before the end of a session."""

    frame: DeskFrame
    session_id: UUID
    class_id: UUID
    question: str
    what: str
    #: What can be done instead; "" where it is paused already.
    pause: str


def prepare_sessions(
    work: Work,
    class_id: UUID,
    entered: Mapping[str, str] | None = None,
    absent: Collection[str] = (),
    errors: Errors | None = None,
) -> SessionsPage:
    """Gather the sessions and the form; what was entered stands in it again after a problem."""
    school_class = get_own_class(work, class_id)
    opened = challenges.challenges_of_class(work.session, class_id)
    by_id = {challenge_id_of(challenge): challenge for challenge in opened}
    held = sessions.sessions_of_class(work.session, class_id)
    last = held[-1] if held else None
    lines = {
        session.id: _line(session, by_id[session.challenge_id], school_class.language)
        for session in reversed(held)
    }
    running = next((lines[session.id] for session in held if session.is_running), None)
    present = by_id.get(last.challenge_id) if last else next(iter(opened), None)
    may_go_on = last is not None and may_take_up(last, held, work.now())
    return SessionsPage(
        frame=replace(
            _frame(school_class, "Sessions", present), next_step=find_next_step(work, school_class)
        ),
        class_id=class_id,
        sessions=tuple(lines.values()),
        running=running,
        take_up=lines[last.id] if last is not None and may_go_on else None,
        start=None
        if running is not None or present is None
        else view_start_form(
            school_class,
            by_id,
            find_chosen(entered or {}, by_id) or present,
            last,
            entered or {},
            students=list_students(work, class_id),
            absent=tuple(absent),
        ),
        errors=errors,
    )


def prepare_session(
    work: Work,
    session_id: UUID,
    ticked: Collection[str] = (),
    errors: Errors | None = None,
    entered: Mapping[str, str] | None = None,
) -> SessionPage:
    """Gather one session; refused texts stand in their fields again."""
    session, school_class = get_own_session(work, session_id)
    challenge = challenges.get_challenge(work.session, session.challenge_id)
    held = sessions.sessions_of_class(work.session, school_class.id)
    return SessionPage(
        frame=replace(
            _frame(school_class, f"Session {session.number}", challenge),
            next_step=find_next_step(work, school_class) if session.is_running else None,
        ),
        session=session,
        conditions=_conditions(session, challenge, school_class.language),
        students=list_students(work, school_class.id),
        absent=tuple(str(student_id) for student_id in session.absent_student_ids),
        launches=challenge.launches,
        lane=view_switch(session, challenge, school_class.language),
        checklist=view_checklist(session, challenge, school_class.language, tuple(ticked)),
        room=view_room(work, school_class, session),
        late=describe_waiting_entries(
            work,
            [group.id for group in groups.groups_of_class(work.session, school_class.id)],
            school_class.language,
        ),
        lesson=view_lesson(session, held, school_class.language, work.now(), entered or {}),
        errors=errors,
    )


def prepare_end(work: Work, session_id: UUID) -> EndPage:
    """Gather what is asked before a session is ended."""
    session, school_class = get_own_session(work, session_id)
    challenge = challenges.get_challenge(work.session, session.challenge_id)
    language = school_class.language
    return EndPage(
        frame=_frame(school_class, f"Session {session.number}", challenge),
        session_id=session_id,
        class_id=school_class.id,
        question=get_session_text(language, "end", "question", number=session.number),
        what=get_session_text(language, "end", "what"),
        pause="" if session.is_paused else get_session_text(language, "end", "pause"),
    )


def _frame(school_class: SchoolClass, heading: str, challenge: Challenge | None) -> DeskFrame:
    if challenge is None:
        return frame_class(school_class, heading)
    what = f"{school_class.name}, {challenge.title}"
    return frame_class(school_class, heading, what, tested=[challenge])


def _line(session: Session, challenge: Challenge, language: str) -> SessionLine:
    state = "running" if session.ended_at is None else f"ended {show_day(session.ended_at)}"
    return SessionLine(
        id=session.id,
        number=session.number,
        challenge=challenge.title,
        conditions=_conditions(session, challenge, language),
        state=state,
        is_running=session.is_running,
    )


def _conditions(session: Session, challenge: Challenge, language: str) -> str:
    lanes = "1 lane" if session.lanes == 1 else f"{session.lanes} lanes"
    absent = len(session.absent_student_ids)
    words = [
        get_session_words(language, challenge),
        "" if session.distance_mm is None else f"{show_length(session.distance_mm)} away",
        lanes if challenge.launches else "",
        f"{absent} absent" if absent else "everybody is here",
    ]
    return ", ".join(part for part in words if part)
