"""Teachers' own wordings of the ladder, by class and rung, from which moment on."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.classes import SchoolClass
from journal.domain.ladder_texts import LadderText
from journal.domain.ladders import Rung
from journal.store.tables import Row, choice, text_column


class LadderTextRow(Row):
    """What a rung says in one class from a moment on."""

    __tablename__ = "ladder_texts"
    __table_args__ = (sa.UniqueConstraint("school_id", "class_id", "rung", "set_at"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    class_id: Mapped[UUID] = mapped_column(sa.ForeignKey("classes.id"))
    rung: Mapped[Rung] = mapped_column(choice(Rung, "rung"))
    text: Mapped[str] = mapped_column(text_column(400))
    set_at: Mapped[datetime] = mapped_column()


def set_text(
    session: Session, school_class: SchoolClass, rung: Rung, text: str, at: datetime
) -> None:
    """Keep a teacher's wording of a rung from a moment on; "" goes back to the journal's words.

    The wordings before stay: a group that reads one now reads it to the end.
    """
    session.add(
        LadderTextRow(
            school_id=school_class.school_id,
            class_id=school_class.id,
            rung=rung,
            text=text,
            set_at=at,
        )
    )
    session.flush()


def texts_of_class(session: Session, school_class: SchoolClass) -> tuple[LadderText, ...]:
    """Return every wording that the teacher ever set, in order."""
    found = session.scalars(
        sa.select(LadderTextRow)
        .where(
            LadderTextRow.school_id == school_class.school_id,
            LadderTextRow.class_id == school_class.id,
        )
        .order_by(LadderTextRow.set_at)
    )
    return tuple(
        LadderText(class_id=row.class_id, rung=row.rung, text=row.text, set_at=row.set_at)
        for row in found
    )
