"""Sessions, who was absent, and the gate of each."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain import sessions as words
from journal.domain.classes import SchoolClass
from journal.domain.errors import NotFound
from journal.domain.messages import Message
from journal.domain.sessions import CloseReason, Gate, GateCheck, LaneState
from journal.store.json_rows import JsonRows
from journal.store.tables import Row, choice, text_column


class SessionRow(Row):
    """One lesson block of a class."""

    __tablename__ = "sessions"
    __table_args__ = (sa.UniqueConstraint("school_id", "class_id", "number"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    class_id: Mapped[UUID] = mapped_column(sa.ForeignKey("classes.id"), index=True)
    challenge_id: Mapped[UUID] = mapped_column(sa.ForeignKey("challenges.id"), index=True)
    number: Mapped[int] = mapped_column()
    started_at: Mapped[datetime] = mapped_column()
    ended_at: Mapped[datetime | None] = mapped_column()
    distance_mm: Mapped[int | None] = mapped_column()
    panel: Mapped[str] = mapped_column(text_column(60))
    lanes: Mapped[int] = mapped_column()
    length_min: Mapped[int | None] = mapped_column()
    paused_at: Mapped[datetime | None] = mapped_column()
    paused_s: Mapped[int] = mapped_column(default=0, server_default="0")
    #: What we do today, a line each; and what is for the teacher alone.
    plan: Mapped[str] = mapped_column(text_column(400), default="", server_default="")
    notes: Mapped[str] = mapped_column(text_column(2000), default="", server_default="")


# One session of a class runs at a time, whoever starts it.
sa.Index(
    "uq_sessions_running",
    SessionRow.school_id,
    SessionRow.class_id,
    unique=True,
    sqlite_where=SessionRow.ended_at.is_(None),
    postgresql_where=SessionRow.ended_at.is_(None),
)


class AbsenceRow(Row):
    """A student who was not there in a session."""

    __tablename__ = "absences"
    __table_args__ = (sa.UniqueConstraint("school_id", "session_id", "student_id"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    session_id: Mapped[UUID] = mapped_column(sa.ForeignKey("sessions.id"), index=True)
    student_id: Mapped[UUID] = mapped_column(sa.ForeignKey("students.id"))


class GateRow(Row):
    """The teacher's checklist as ticked."""

    __tablename__ = "gates"

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    session_id: Mapped[UUID] = mapped_column(sa.ForeignKey("sessions.id"), index=True)
    teacher_id: Mapped[UUID] = mapped_column(sa.ForeignKey("teachers.id"))
    opened_at: Mapped[datetime] = mapped_column()
    checks: Mapped[list[Any]] = mapped_column()
    #: Each row is one time that the lane was open; the last one has no end while it is.
    closed_at: Mapped[datetime | None] = mapped_column()
    closed_by: Mapped[CloseReason | None] = mapped_column(choice(CloseReason, "closed_by"))


_ABSENCES = JsonRows((AbsenceRow.__table__.c.student_id,), AbsenceRow.__table__)
_GATES = JsonRows(tuple(GateRow.__table__.c), GateRow.__table__)


def add_session(
    session: Session,
    school_class: SchoolClass,
    entry: words.SessionEntry,
    *,
    panel: str,
    started_at: datetime,
    ended_at: datetime | None = None,
) -> words.Session:
    """Add the class's next session; its number follows the last one's.

    Without `ended_at` it runs from now on, and the class must have no other running session.
    """
    last = session.scalar(
        sa.select(sa.func.max(SessionRow.number)).where(SessionRow.class_id == school_class.id)
    )
    row = SessionRow(
        school_id=school_class.school_id,
        class_id=school_class.id,
        challenge_id=entry.challenge_id,
        number=(last or 0) + 1,
        started_at=started_at,
        ended_at=ended_at,
        distance_mm=entry.distance_mm,
        panel=panel,
        lanes=entry.lanes,
        length_min=entry.length_min,
    )
    session.add(row)
    session.flush()
    set_absences(session, school_class.school_id, row.id, entry.absent_student_ids)
    return get_session(session, row.id)


def set_absences(
    session: Session, school_id: UUID, session_id: UUID, student_ids: Iterable[UUID]
) -> None:
    """Note who is absent in a session, in place of what was noted before."""
    session.execute(sa.delete(AbsenceRow).where(AbsenceRow.session_id == session_id))
    session.add_all(
        AbsenceRow(school_id=school_id, session_id=session_id, student_id=student_id)
        for student_id in student_ids
    )
    session.flush()


def end_session(session: Session, session_id: UUID, at: datetime) -> None:
    """End a session."""
    session.execute(sa.update(SessionRow).where(SessionRow.id == session_id).values(ended_at=at))


def set_pause(
    session: Session, session_id: UUID, paused_at: datetime | None, paused_s: int
) -> None:
    """Pause a session, or let it go on after pauses of so many seconds; an ended one runs again."""
    session.execute(
        sa.update(SessionRow)
        .where(SessionRow.id == session_id)
        .values(paused_at=paused_at, paused_s=paused_s, ended_at=None)
    )


def set_texts(session: Session, session_id: UUID, plan: str, notes: str) -> None:
    """Keep what we do today, and the teacher's own notes."""
    session.execute(
        sa.update(SessionRow).where(SessionRow.id == session_id).values(plan=plan, notes=notes)
    )


def add_gate(session: Session, school_id: UUID, session_id: UUID, gate: Gate) -> None:
    """Keep the checklist that opens launching in a session."""
    session.add(
        GateRow(
            school_id=school_id,
            session_id=session_id,
            teacher_id=gate.teacher_id,
            opened_at=gate.opened_at,
            checks=[check.value for check in gate.checks],
            closed_at=gate.closed_at,
            closed_by=gate.closed_by,
        )
    )
    session.flush()


def close_lane(session: Session, session_id: UUID, at: datetime, by: CloseReason) -> bool:
    """Close the lane of a session; False where it was closed already."""
    closed = session.scalars(
        sa.update(GateRow)
        .where(GateRow.session_id == session_id, GateRow.closed_at.is_(None))
        .values(closed_at=at, closed_by=by)
        .returning(GateRow.id)
    ).all()
    return bool(closed)


def find_lane(session: Session, class_id: UUID) -> tuple[UUID, LaneState] | None:
    """Return the running session of a class and its lane, in one small query.

    Every tablet of the room asks this every two seconds.
    """
    is_open = (
        sa.select(GateRow.id)
        .where(GateRow.session_id == SessionRow.id, GateRow.closed_at.is_(None))
        .exists()
    )
    found = session.execute(
        sa.select(SessionRow.id, is_open)
        .where(SessionRow.class_id == class_id, SessionRow.ended_at.is_(None))
        .order_by(SessionRow.number.desc())
        .limit(1)
    ).first()
    if found is None:
        return None
    return found[0], LaneState.OPEN if found[1] else LaneState.CLOSED


def get_session(session: Session, session_id: UUID) -> words.Session:
    """Return the session with absences and gate; raise NotFound."""
    found = _select(session, SessionRow.id == session_id)
    if not found:
        message = Message("sessions.no_such_session")
        raise NotFound(message)
    return found[0]


def find_running(session: Session, class_id: UUID) -> words.Session | None:
    """Return the class's session that has not been ended."""
    found = _select(session, SessionRow.class_id == class_id, SessionRow.ended_at.is_(None))
    return found[-1] if found else None


def sessions_of_class(session: Session, class_id: UUID) -> tuple[words.Session, ...]:
    """Return all sessions of a class in their order, in one query."""
    return _select(session, SessionRow.class_id == class_id)


def _select(session: Session, *conditions: sa.ColumnElement[bool]) -> tuple[words.Session, ...]:
    found = session.execute(
        sa.select(
            *SessionRow.__table__.c,
            _ABSENCES.where(AbsenceRow.session_id == SessionRow.id).label("absences"),
            _GATES.where(GateRow.session_id == SessionRow.id).label("gates"),
        )
        .where(*conditions)
        .order_by(SessionRow.number)
    )
    return tuple(_session(row) for row in found)


def _session(row: Any) -> words.Session:  # noqa: ANN401 - a row of the columns of `_select`
    gates = sorted(_GATES.read(row.gates), key=lambda gate: gate.opened_at)
    return words.Session(
        id=row.id,
        school_id=row.school_id,
        class_id=row.class_id,
        challenge_id=row.challenge_id,
        number=row.number,
        started_at=row.started_at,
        ended_at=row.ended_at,
        distance_mm=row.distance_mm,
        panel=row.panel,
        lanes=row.lanes,
        length_min=row.length_min,
        paused_at=row.paused_at,
        paused_s=row.paused_s,
        plan=row.plan,
        notes=row.notes,
        absent_student_ids=frozenset(
            absence.student_id for absence in _ABSENCES.read(row.absences)
        ),
        gate=_gate(gates[-1]) if gates else None,
    )


def _gate(row: Any) -> Gate:  # noqa: ANN401 - a named tuple of the columns of `_GATES`
    return Gate(
        opened_at=row.opened_at,
        teacher_id=row.teacher_id,
        checks=tuple(GateCheck(check) for check in row.checks),
        closed_at=row.closed_at,
        closed_by=row.closed_by,
    )


def is_any_running(session: Session) -> bool:
    """Return whether any class is in a lesson."""
    running = sa.select(SessionRow.id).where(SessionRow.ended_at.is_(None)).limit(1)
    return session.scalar(running) is not None
