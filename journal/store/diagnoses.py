"""Diagnoses as the journal named them, and what the teacher found the cause to be."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.diagnoses import JudgedCause, Reading
from journal.store.groups import GroupRow
from journal.store.tables import Row, choice, text_column


class JudgedCauseRow(Row):
    """A cause as said and as found; a later one of the group stands after it."""

    __tablename__ = "judged_causes"

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    group_id: Mapped[UUID] = mapped_column(sa.ForeignKey("groups.id"), index=True)
    challenge_id: Mapped[UUID] = mapped_column(sa.ForeignKey("challenges.id"))
    said: Mapped[Reading] = mapped_column(choice(Reading, "said"))
    in_100: Mapped[int] = mapped_column()
    trials: Mapped[int] = mapped_column()
    turned_out: Mapped[Reading] = mapped_column(choice(Reading, "turned_out"))
    note: Mapped[str] = mapped_column(text_column(300))
    judged_at: Mapped[datetime] = mapped_column()
    teacher_id: Mapped[UUID] = mapped_column(sa.ForeignKey("teachers.id"))


def add_judged_cause(session: Session, judged: JudgedCause) -> None:
    """Keep what it turned out to be."""
    session.add(
        JudgedCauseRow(
            id=judged.id,
            school_id=judged.school_id,
            group_id=judged.group_id,
            challenge_id=judged.challenge_id,
            said=judged.said,
            in_100=judged.in_100,
            trials=judged.trials,
            turned_out=judged.turned_out,
            note=judged.note,
            judged_at=judged.judged_at,
            teacher_id=judged.teacher_id,
        )
    )
    session.flush()


def judged_causes_of_class(session: Session, class_id: UUID) -> tuple[JudgedCause, ...]:
    """Return what was judged in a class, oldest first."""
    rows = session.scalars(
        sa.select(JudgedCauseRow)
        .join(GroupRow, GroupRow.id == JudgedCauseRow.group_id)
        .where(GroupRow.class_id == class_id)
        .order_by(JudgedCauseRow.judged_at, JudgedCauseRow.id)
    )
    return tuple(
        JudgedCause(
            id=row.id,
            school_id=row.school_id,
            group_id=row.group_id,
            challenge_id=row.challenge_id,
            said=row.said,
            in_100=row.in_100,
            trials=row.trials,
            turned_out=row.turned_out,
            note=row.note,
            judged_at=row.judged_at,
            teacher_id=row.teacher_id,
        )
        for row in rows
    )
