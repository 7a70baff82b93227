"""That the fair-test card was offered to a class, and done."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID, uuid4

import sqlalchemy as sa
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.classes import SchoolClass
from journal.domain.fair_test_cards import FairTestCard
from journal.store.tables import Row


class FairTestCardRow(Row):
    """One card a class."""

    __tablename__ = "fair_test_cards"
    __table_args__ = (sa.UniqueConstraint("school_id", "class_id"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    class_id: Mapped[UUID] = mapped_column(sa.ForeignKey("classes.id"))
    offered_at: Mapped[datetime] = mapped_column()
    done_at: Mapped[datetime | None] = mapped_column()


def offer_card(session: Session, school_class: SchoolClass, at: datetime) -> None:
    """Note that the card is offered, once, whoever comes first."""
    make = postgresql.insert if session.get_bind().dialect.name == "postgresql" else sqlite.insert
    session.execute(
        make(FairTestCardRow)
        .values(
            id=uuid4(), school_id=school_class.school_id, class_id=school_class.id, offered_at=at
        )
        .on_conflict_do_nothing()
    )


def set_done(session: Session, class_id: UUID, at: datetime | None) -> None:
    """Note when the card was done, or that it was not."""
    session.execute(
        sa.update(FairTestCardRow).where(FairTestCardRow.class_id == class_id).values(done_at=at)
    )


def find_card(session: Session, class_id: UUID) -> FairTestCard | None:
    """Return the card of a class; None before it was offered."""
    row = session.scalars(
        sa.select(FairTestCardRow)
        .where(FairTestCardRow.class_id == class_id)
        .execution_options(populate_existing=True)
    ).first()
    if row is None:
        return None
    return FairTestCard(class_id=row.class_id, offered_at=row.offered_at, done_at=row.done_at)
