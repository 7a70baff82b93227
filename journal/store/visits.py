"""Visits of the teacher and near-misses."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.groups import Group
from journal.domain.visits import NearMiss, Visit
from journal.store.tables import Row, text_column


class VisitRow(Row):
    """The teacher was at a group."""

    __tablename__ = "visits"

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    group_id: Mapped[UUID] = mapped_column(sa.ForeignKey("groups.id"), index=True)
    visited_at: Mapped[datetime] = mapped_column()
    reason: Mapped[str] = mapped_column(text_column(200))
    note: Mapped[str] = mapped_column(text_column(600))


class NearMissRow(Row):
    """Something that nearly went badly; without names."""

    __tablename__ = "near_misses"

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    group_id: Mapped[UUID] = mapped_column(sa.ForeignKey("groups.id"), index=True)
    noted_at: Mapped[datetime] = mapped_column()
    note: Mapped[str] = mapped_column(text_column(600))
    looked_at: Mapped[datetime | None] = mapped_column()


def add_visit(session: Session, group: Group, *, at: datetime, reason: str, note: str) -> Visit:
    """Keep a visit; the near-misses of the group count as looked at."""
    row = VisitRow(
        school_id=group.school_id, group_id=group.id, visited_at=at, reason=reason, note=note
    )
    session.add(row)
    session.flush()
    session.execute(
        sa.update(NearMissRow)
        .where(NearMissRow.group_id == group.id, NearMissRow.looked_at.is_(None))
        .values(looked_at=at)
    )
    return _visit(row)


def set_visit_note(session: Session, group_id: UUID, visit_id: UUID, note: str) -> bool:
    """Put a note to a visit of the group; False where there is no such visit."""
    done = session.execute(
        sa.update(VisitRow)
        .where(VisitRow.id == visit_id, VisitRow.group_id == group_id)
        .values(note=note)
        .returning(VisitRow.id)
    )
    return done.first() is not None


def visits_of_groups(session: Session, group_ids: Iterable[UUID]) -> tuple[Visit, ...]:
    """Return the visits to some groups, in order."""
    rows = session.scalars(
        sa.select(VisitRow)
        .where(VisitRow.group_id.in_(list(group_ids)))
        .order_by(VisitRow.visited_at)
    )
    return tuple(_visit(row) for row in rows)


def add_near_miss(session: Session, group: Group, *, at: datetime, note: str) -> NearMiss:
    """Keep a near-miss."""
    row = NearMissRow(school_id=group.school_id, group_id=group.id, noted_at=at, note=note)
    session.add(row)
    session.flush()
    return _near_miss(row)


def set_near_miss_note(session: Session, group_id: UUID, near_miss_id: UUID, note: str) -> bool:
    """Put a note to a near-miss of the group; False where there is no such one."""
    done = session.execute(
        sa.update(NearMissRow)
        .where(NearMissRow.id == near_miss_id, NearMissRow.group_id == group_id)
        .values(note=note)
        .returning(NearMissRow.id)
    )
    return done.first() is not None


def near_misses_of_groups(session: Session, group_ids: Iterable[UUID]) -> tuple[NearMiss, ...]:
    """Return the near-misses of some groups, in order."""
    rows = session.scalars(
        sa.select(NearMissRow)
        .where(NearMissRow.group_id.in_(list(group_ids)))
        .order_by(NearMissRow.noted_at)
    )
    return tuple(_near_miss(row) for row in rows)


def _visit(row: VisitRow) -> Visit:
    return Visit(
        id=row.id,
        group_id=row.group_id,
        visited_at=row.visited_at,
        reason=row.reason,
        note=row.note,
    )


def _near_miss(row: NearMissRow) -> NearMiss:
    return NearMiss(
        id=row.id,
        group_id=row.group_id,
        noted_at=row.noted_at,
        note=row.note,
        looked_at=row.looked_at,
    )
