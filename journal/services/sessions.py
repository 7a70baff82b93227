"""Start and end a session, note who is there, and open the gate."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from uuid import UUID

from journal.content.gates import get_gate_lines
from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.errors import Invalid, NotFound, Problem, Refused
from journal.domain.lengths import read_length_mm
from journal.domain.numbers import NoNumber, read_whole
from journal.domain.sessions import Gate, LaneState, Session, SessionEntry
from journal.records.work import Work
from journal.services.classes import get_own_class
from journal.store import challenges, classes, people, sessions

MOST_LANES = 8


def start_session(
    work: Work,
    class_id: UUID,
    *,
    challenge_id: UUID,
    distance: str,
    lanes: str,
    absent_student_ids: Collection[UUID] = (),
) -> Session:
    """Start the class's next session; distance and lanes come as they were written.

    Raises Refused while another session runs, Invalid for what was written.
    """
    school_class = get_own_class(work, class_id)
    running = sessions.find_running(work.session, class_id)
    if running is not None:
        message = f"Session {running.number} is still running. End it first."
        raise Refused(message)
    challenge = challenges.get_challenge(work.session, challenge_id)
    if challenge.class_id != class_id:
        message = "There is no such challenge in this class."
        raise NotFound(message)
    entry = _read_entry(challenge, challenge_id, distance, lanes)
    panel = "" if challenge.panel is None else challenge.panel.key
    started = sessions.add_session(
        work.session, school_class, entry, panel=panel, started_at=work.now()
    )
    _set_absent(work, school_class, started, absent_student_ids)
    classes.bump_version(work.session, class_id)
    return started


def set_absent(work: Work, session_id: UUID, absent_student_ids: Collection[UUID]) -> None:
    """Note who is not there in a session that runs."""
    session, school_class = get_own_session(work, session_id)
    _require_running(session)
    _set_absent(work, school_class, session, absent_student_ids)
    classes.bump_version(work.session, school_class.id)


def open_gate(work: Work, session_id: UUID, ticked: Iterable[str], seen: str | None = None) -> Gate:
    """Open the lane of the session; raise Invalid unless every line is ticked.

    `seen` is the mark of the closed lane that stood over the checklist: lines that were ticked
    before it was closed once more are void. Opening an open lane does nothing.
    """
    session, school_class = get_own_session(work, session_id)
    _require_running(session)
    if session.gate is not None and session.lane is LaneState.OPEN:
        return session.gate
    challenge = challenges.get_challenge(work.session, session.challenge_id)
    if seen is not None and seen != session.lane_mark:
        message = "It was closed again after you ticked. Look at each line once more."
        raise Invalid.at("checks", message)
    given = set(ticked)
    lines = get_gate_lines(school_class.language, launches=challenge.launches)
    missing = [line for check, line in lines.items() if check.value not in given]
    if missing:
        message = "It stays closed until each line is ticked."
        raise Invalid(
            message, [Problem("checks", f"{message} Not ticked yet: {' '.join(missing)}")]
        )
    gate = Gate(opened_at=work.now(), teacher_id=school_class.teacher_id, checks=tuple(lines))
    sessions.add_gate(work.session, school_class.school_id, session.id, gate)
    classes.bump_version(work.session, school_class.id)
    return gate


def end_session(work: Work, session_id: UUID) -> None:
    """End a session, and with it the lesson word; ending it twice does nothing."""
    session, school_class = get_own_session(work, session_id)
    if session.is_running:
        sessions.end_session(work.session, session_id, work.now())
        classes.drop_lesson_words(work.session, school_class.id)
        classes.bump_version(work.session, school_class.id)


def get_own_session(work: Work, session_id: UUID) -> tuple[Session, SchoolClass]:
    """Return a session of one of the teacher's classes, with the class; raise NotFound."""
    session = sessions.get_session(work.session, session_id)
    return session, get_own_class(work, session.class_id)


def _require_running(session: Session) -> None:
    if not session.is_running:
        message = f"Session {session.number} has ended. Start the next one."
        raise Refused(message)


def _read_entry(
    challenge: Challenge, challenge_id: UUID, distance: str, lanes: str
) -> SessionEntry:
    problems: list[Problem] = []
    distance_mm = None
    if challenge.distance_mm is not None:
        try:
            distance_mm = read_length_mm(distance, "distance", lowest_mm=100, highest_mm=50_000)
        except Invalid as invalid:
            problems.extend(invalid.problems)
    lane_count = 0
    try:
        lane_count = read_whole(lanes)
        if not 1 <= lane_count <= MOST_LANES:
            what = f"{lane_count} is no number of lanes. Write one from 1 to {MOST_LANES}."
            problems.append(Problem("lanes", what))
    except NoNumber as error:
        problems.append(Problem("lanes", error.message))
    if problems:
        raise Invalid(problems[0].what, problems)
    return SessionEntry(challenge_id=challenge_id, distance_mm=distance_mm, lanes=lane_count)


def _set_absent(
    work: Work, school_class: SchoolClass, session: Session, student_ids: Collection[UUID]
) -> None:
    known = {student.id for student in people.students_of_class(work.session, school_class.id)}
    if not known.issuperset(student_ids):
        message = "There is no such student in this class."
        raise NotFound(message)
    sessions.set_absences(work.session, school_class.school_id, session.id, student_ids)
