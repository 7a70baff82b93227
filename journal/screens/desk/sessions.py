"""What the session pages show: ready values, no rules."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from uuid import UUID

from journal.content.gates import get_caution_line, get_session_words
from journal.content.shown_times import show_day
from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.group_contexts import challenge_id_of
from journal.domain.lengths import show_length
from journal.domain.sessions import Session
from journal.records.work import Work
from journal.screens.desk.parked_trials import describe_waiting_entries
from journal.screens.frames import DeskFrame
from journal.screens.lanes import Checklist, LaneSwitch, view_checklist, view_switch
from journal.services.classes import get_own_class
from journal.services.sessions import get_own_session
from journal.store import challenges, groups, people, sessions

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
    is_one_running: bool
    challenges: tuple[tuple[str, str], ...]
    students: tuple[tuple[str, str, str], ...]
    chosen: str
    distance: str
    #: Each challenge with the distance that it proposes; "" where nothing is launched.
    proposed: tuple[tuple[str, str], ...]
    lanes: str
    absent: tuple[str, ...]
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
    class_id: UUID
    #: That trials came late and wait to be placed; "" where none does.
    late: str
    errors: Errors | None = None


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
    given = entered or {}
    last = held[-1] if held else None
    start = by_id.get(last.challenge_id) if last else next(iter(opened), None)
    proposed = {str(key): _propose(challenge) for key, challenge in by_id.items()}
    chosen = given.get("challenge_id", str(start.id) if start else "")
    return SessionsPage(
        frame=_frame(school_class, "Sessions", start),
        class_id=class_id,
        sessions=tuple(
            _line(session, by_id[session.challenge_id], school_class.language)
            for session in reversed(held)
        ),
        is_one_running=any(session.is_running for session in held),
        challenges=tuple((str(key), challenge.title) for key, challenge in by_id.items()),
        students=_students(work, class_id),
        chosen=chosen,
        distance=given.get("distance", proposed.get(chosen, "")),
        proposed=tuple(proposed.items()),
        lanes=given.get("lanes", str(last.lanes if last else 1)),
        absent=tuple(absent),
        errors=errors,
    )


def prepare_session(
    work: Work,
    session_id: UUID,
    ticked: Collection[str] = (),
    errors: Errors | None = None,
) -> SessionPage:
    """Gather one session."""
    session, school_class = get_own_session(work, session_id)
    challenge = challenges.get_challenge(work.session, session.challenge_id)
    return SessionPage(
        frame=_frame(school_class, f"Session {session.number}", challenge),
        session=session,
        conditions=_conditions(session, challenge, school_class.language),
        students=_students(work, school_class.id),
        absent=tuple(str(student_id) for student_id in session.absent_student_ids),
        launches=challenge.launches,
        lane=view_switch(session, challenge, school_class.language),
        checklist=view_checklist(session, challenge, school_class.language, tuple(ticked)),
        class_id=school_class.id,
        late=describe_waiting_entries(
            work, [group.id for group in groups.groups_of_class(work.session, school_class.id)]
        ),
        errors=errors,
    )


def _propose(challenge: Challenge) -> str:
    return "" if challenge.distance_mm is None else show_length(challenge.distance_mm)


def _frame(school_class: SchoolClass, heading: str, challenge: Challenge | None) -> DeskFrame:
    caution = ""
    if challenge is not None:
        caution = get_caution_line(school_class.language, challenge)
    return DeskFrame(
        title=f"{heading}, {school_class.name}",
        heading=heading,
        what=school_class.name if challenge is None else f"{school_class.name}, {challenge.title}",
        class_id=school_class.id,
        class_name=school_class.name,
        language=school_class.language,
        caution=caution,
    )


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
    told = [
        get_session_words(language, challenge),
        "" if session.distance_mm is None else f"{show_length(session.distance_mm)} away",
        lanes if challenge.launches else "",
        f"{absent} absent" if absent else "everybody is here",
    ]
    return ", ".join(part for part in told if part)


def _students(work: Work, class_id: UUID) -> tuple[tuple[str, str, str], ...]:
    """Return id, nickname and group name of each student of the class, by group."""
    found = [
        (str(member.student_id), member.nickname, group.name)
        for group in groups.groups_of_class(work.session, class_id)
        for member in group.present_members
    ]
    grouped = {student_id for student_id, _, _ in found}
    others = [
        (str(student.id), student.nickname, "no group yet")
        for student in people.students_of_class(work.session, class_id)
        if not student.left and str(student.id) not in grouped
    ]
    return (*found, *others)
