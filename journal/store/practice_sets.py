"""Practice sets of groups."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.practice_sets import PracticeSet
from journal.store.tables import Row


class PracticeSetRow(Row):
    """So many practice trials from a moment on; the newest one of a group holds."""

    __tablename__ = "practice_sets"
    __table_args__ = (sa.CheckConstraint("trials BETWEEN 1 AND 60", "trials_are_few"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    group_id: Mapped[UUID] = mapped_column(sa.ForeignKey("groups.id"))
    challenge_id: Mapped[UUID] = mapped_column(sa.ForeignKey("challenges.id"))
    trials: Mapped[int] = mapped_column()
    started_at: Mapped[datetime] = mapped_column()
    by_teacher: Mapped[bool] = mapped_column()


sa.Index(None, PracticeSetRow.group_id, PracticeSetRow.challenge_id)


def add_practice_set(session: Session, kept: PracticeSet) -> None:
    """Keep a practice set."""
    session.add(
        PracticeSetRow(
            id=kept.id,
            school_id=kept.school_id,
            group_id=kept.group_id,
            challenge_id=kept.challenge_id,
            trials=kept.trials,
            started_at=kept.started_at,
            by_teacher=kept.by_teacher,
        )
    )
    session.flush()


def practice_sets_of_groups(
    session: Session, group_ids: Iterable[UUID], challenge_id: UUID
) -> tuple[PracticeSet, ...]:
    """Return the practice sets of some groups, oldest first, in one query."""
    rows = session.scalars(
        sa.select(PracticeSetRow)
        .where(
            PracticeSetRow.group_id.in_(list(group_ids)),
            PracticeSetRow.challenge_id == challenge_id,
        )
        .order_by(PracticeSetRow.started_at, PracticeSetRow.id)
    )
    return tuple(
        PracticeSet(
            id=row.id,
            school_id=row.school_id,
            group_id=row.group_id,
            challenge_id=row.challenge_id,
            trials=row.trials,
            started_at=row.started_at,
            by_teacher=row.by_teacher,
        )
        for row in rows
    )
