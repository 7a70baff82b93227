"""Start, pause and end a session, note who is there, and open the gate."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import datetime
from uuid import UUID

from journal.content.gates import get_gate_lines
from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.errors import Invalid, NotFound, Problem, Refused
from journal.domain.group_contexts import challenge_id_of
from journal.domain.lengths import read_length_mm
from journal.domain.lesson_times import TAKE_UP_WITHIN, read_length_min
from journal.domain.messages import Message
from journal.domain.numbers import NoNumber, read_whole
from journal.domain.sentences import clean_words
from journal.domain.sessions import CloseReason, Gate, LaneState, Session, SessionEntry
from journal.records.work import Work
from journal.services.classes import get_own_class
from journal.store import challenges, classes, people, sessions, sign_ins

MOST_LANES = 8
#: What can be read on the board from the last row (our own choice).
MOST_PLAN_LINES, LONGEST_PLAN_LINE = 3, 36
LONGEST_NOTES = 2000


def start_session(
    work: Work,
    class_id: UUID,
    *,
    challenge_id: UUID,
    distance: str,
    lanes: str,
    length: str = "",
    absent_student_ids: Collection[UUID] = (),
) -> Session:
    """Start the class's next session; distance, lanes and length come as they were written.

    Distance and lanes are not read where nothing is launched. Without a length it lasts as long as
    is usual for the band. Raises Refused while another session runs, Invalid for what was written.
    """
    school_class = get_own_class(work, class_id)
    running = sessions.find_running(work.session, class_id)
    if running is not None:
        message = Message("sessions.session_is_still_running", number=running.number)
        raise Refused(message)
    challenge = challenges.get_challenge(work.session, challenge_id)
    if challenge.class_id != class_id:
        message = Message("challenges.no_such_challenge_in_this_class")
        raise NotFound(message)
    entry = _read_entry(school_class, challenge, distance, lanes, length)
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
    if session.is_paused:
        raise Invalid.at("checks", Message("sessions.paused", number=session.number))
    challenge = challenges.get_challenge(work.session, session.challenge_id)
    if seen is not None and seen != session.lane_mark:
        message = Message("sessions.it_was_closed_again_after_you_ticked")
        raise Invalid.at("checks", message)
    given = set(ticked)
    lines = get_gate_lines(school_class.language, launches=challenge.launches)
    missing = [line for check, line in lines.items() if check.value not in given]
    if missing:
        message = Message("sessions.it_stays_closed_until_each_line_is_ticked")
        raise Invalid(
            message,
            [
                Problem(
                    "checks",
                    Message("sessions.not_ticked_yet", message=message, missing=tuple(missing)),
                )
            ],
        )
    gate = Gate(opened_at=work.now(), teacher_id=school_class.teacher_id, checks=tuple(lines))
    sessions.add_gate(work.session, school_class.school_id, session.id, gate)
    classes.bump_version(work.session, school_class.id)
    return gate


def pause_session(work: Work, session_id: UUID) -> None:
    """Pause a session: its lane closes and its time stands still; pausing it twice does nothing.

    Lesson word, tablets and everything that was logged stay.
    """
    session, school_class = get_own_session(work, session_id)
    _require_running(session)
    if session.is_paused:
        return
    now = work.now()
    sessions.close_lane(work.session, session_id, now, CloseReason.TEACHER)
    sessions.set_pause(work.session, session_id, now, session.paused_s)
    classes.bump_version(work.session, school_class.id)


def resume_session(work: Work, session_id: UUID) -> None:
    """Go on with a session that is paused, or with the class's last one that has just been ended.

    Its lane stays closed until the checklist is ticked. Raises Refused where another session runs
    or too much time has passed. A session that goes on already is left as it is.
    """
    session, school_class = get_own_session(work, session_id)
    now = work.now()
    stopped_at = session.paused_at
    if session.ended_at is not None:
        running = sessions.find_running(work.session, school_class.id)
        if running is not None:
            raise Refused(Message("sessions.another_runs", number=running.number))
        if not may_take_up(session, sessions.sessions_of_class(work.session, school_class.id), now):
            raise Refused(Message("sessions.ended_long_ago", number=session.number))
        sessions.close_lane(work.session, session_id, session.ended_at, CloseReason.TEACHER)
        stopped_at = stopped_at or session.ended_at
    if stopped_at is None:
        return
    stood_s = max(0, int((now - stopped_at).total_seconds()))
    sessions.set_pause(work.session, session_id, None, session.paused_s + stood_s)
    classes.bump_version(work.session, school_class.id)


def may_take_up(session: Session, held: Iterable[Session], now: datetime) -> bool:
    """Tell whether an ended session can go on: it is the class's last one and ended just now."""
    is_last = session.number == max(other.number for other in held)
    return (
        is_last and session.ended_at is not None and abs(now - session.ended_at) <= TAKE_UP_WITHIN
    )


def keep_texts(work: Work, session_id: UUID, plan: str, notes: str) -> None:
    """Keep what we do today, a line each, and the teacher's own notes; raise Invalid for either."""
    _, school_class = get_own_session(work, session_id)
    lines = [clean_words(line) for line in plan.splitlines()]
    lines = [line for line in lines if line]
    notes = "\n".join(clean_words(line) for line in notes.splitlines()).strip()
    problems: list[Problem] = []
    if len(lines) > MOST_PLAN_LINES:
        what = Message("sessions.plan_lines", most=MOST_PLAN_LINES, lines=len(lines))
        problems.append(Problem("plan", what))
    problems.extend(
        Problem(
            "plan",
            Message(
                "sessions.plan_line", most=LONGEST_PLAN_LINE, start=line[:20], length=len(line)
            ),
        )
        for line in lines
        if len(line) > LONGEST_PLAN_LINE
    )
    if len(notes) > LONGEST_NOTES:
        what = Message("sessions.notes", most=LONGEST_NOTES, length=len(notes))
        problems.append(Problem("notes", what))
    if problems:
        raise Invalid(problems[0].what, problems)
    sessions.set_texts(work.session, session_id, "\n".join(lines), notes)
    classes.bump_version(work.session, school_class.id)


def end_session(work: Work, session_id: UUID) -> None:
    """End a session, and with it the lesson word and the boards; ending it twice does nothing."""
    session, school_class = get_own_session(work, session_id)
    if session.is_running:
        sessions.end_session(work.session, session_id, work.now())
        classes.drop_lesson_words(work.session, school_class.id)
        sign_ins.end_boards(work.session, school_class.id, work.now())
        classes.bump_version(work.session, school_class.id)


def get_own_session(work: Work, session_id: UUID) -> tuple[Session, SchoolClass]:
    """Return a session of one of the teacher's classes, with the class; raise NotFound."""
    session = sessions.get_session(work.session, session_id)
    return session, get_own_class(work, session.class_id)


def _require_running(session: Session) -> None:
    if not session.is_running:
        message = Message("sessions.session_has_ended", number=session.number)
        raise Refused(message)


def _read_entry(
    school_class: SchoolClass, challenge: Challenge, distance: str, lanes: str, length: str
) -> SessionEntry:
    problems: list[Problem] = []
    distance_mm = None
    if challenge.distance_mm is not None:
        try:
            distance_mm = read_length_mm(distance, "distance", lowest_mm=100, highest_mm=50_000)
        except Invalid as invalid:
            problems.extend(invalid.problems)
    lane_count = 1
    if challenge.launches:
        try:
            lane_count = read_whole(lanes)
            if not 1 <= lane_count <= MOST_LANES:
                what = Message(
                    "sessions.no_number_of_lanes", lane_count=lane_count, most_lanes=MOST_LANES
                )
                problems.append(Problem("lanes", what))
        except NoNumber as error:
            problems.append(Problem("lanes", error.message))
    length_min = None
    try:
        length_min = read_length_min(length, school_class.band)
    except Invalid as invalid:
        problems.extend(invalid.problems)
    if problems:
        raise Invalid(problems[0].what, problems)
    return SessionEntry(
        challenge_id=challenge_id_of(challenge),
        distance_mm=distance_mm,
        lanes=lane_count,
        length_min=length_min,
    )


def _set_absent(
    work: Work, school_class: SchoolClass, session: Session, student_ids: Collection[UUID]
) -> None:
    known = {student.id for student in people.students_of_class(work.session, school_class.id)}
    if not known.issuperset(student_ids):
        message = Message("people.no_such_student_in_this_class")
        raise NotFound(message)
    sessions.set_absences(work.session, school_class.school_id, session.id, student_ids)
