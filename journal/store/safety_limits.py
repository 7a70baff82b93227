"""Limits as a school edits them: each edit is a new line, the newest one counts."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.safety_limits import LimitEdit, LimitKey
from journal.store.tables import Row, choice, text_column

LONGEST_SOURCE = 300


class SafetyLimitRow(Row):
    """One edit of a limit by a school; without a value the published one counts again."""

    __tablename__ = "safety_limits"

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"), index=True)
    key: Mapped[LimitKey] = mapped_column(choice(LimitKey, "key"))
    value: Mapped[float | None] = mapped_column(sa.Double())
    source: Mapped[str] = mapped_column(text_column(LONGEST_SOURCE))
    edited_at: Mapped[datetime] = mapped_column()
    teacher_id: Mapped[UUID] = mapped_column(sa.ForeignKey("teachers.id"))


def add_limit_edit(session: Session, school_id: UUID, teacher_id: UUID, edit: LimitEdit) -> None:
    """Keep one edit beside the earlier ones."""
    session.add(
        SafetyLimitRow(
            school_id=school_id,
            teacher_id=teacher_id,
            key=edit.key,
            value=edit.value,
            source=edit.source,
            edited_at=edit.edited_at,
        )
    )
    session.flush()


def limit_edits_of_school(session: Session, school_id: UUID) -> tuple[LimitEdit, ...]:
    """Return every edit of a school, the oldest first."""
    rows = session.scalars(
        sa.select(SafetyLimitRow)
        .where(SafetyLimitRow.school_id == school_id)
        .order_by(SafetyLimitRow.edited_at, SafetyLimitRow.id)
    )
    return tuple(
        LimitEdit(key=row.key, value=row.value, source=row.source, edited_at=row.edited_at)
        for row in rows
    )
