"""Teachers' own wordings of the ladder, one a class and rung."""

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
    """What a rung says in one class."""

    __tablename__ = "ladder_texts"
    __table_args__ = (sa.UniqueConstraint("school_id", "class_id", "rung"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    class_id: Mapped[UUID] = mapped_column(sa.ForeignKey("classes.id"))
    rung: Mapped[Rung] = mapped_column(choice(Rung, "rung"))
    text: Mapped[str] = mapped_column(text_column(400))
    set_at: Mapped[datetime] = mapped_column()


def set_text(
    session: Session, school_class: SchoolClass, rung: Rung, text: str, at: datetime
) -> None:
    """Keep a teacher's wording of a rung in place of the one before."""
    drop_text(session, school_class.id, rung)
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


def drop_text(session: Session, class_id: UUID, rung: Rung) -> None:
    """Go back to the journal's own wordings of a rung."""
    session.execute(
        sa.delete(LadderTextRow).where(
            LadderTextRow.class_id == class_id, LadderTextRow.rung == rung
        )
    )


def texts_of_class(session: Session, class_id: UUID) -> dict[Rung, LadderText]:
    """Return the teacher's wordings by rung, for the rungs that have one."""
    found = session.scalars(
        sa.select(LadderTextRow)
        .where(LadderTextRow.class_id == class_id)
        .execution_options(populate_existing=True)
    )
    return {
        row.rung: LadderText(class_id=row.class_id, rung=row.rung, text=row.text, set_at=row.set_at)
        for row in found
    }
