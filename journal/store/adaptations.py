"""What a teacher adapted for a group."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.adaptations import Adaptation as Kept
from journal.domain.adaptations import AdaptationKind, AdaptedCheck
from journal.store.tables import Row, choice, text_column


class AdaptationRow(Row):
    """One adaptation; it is never changed, a later one of its sort takes its place."""

    __tablename__ = "adaptations"
    __table_args__ = (
        sa.CheckConstraint(
            "(kind != 'closer') OR (distance_mm IS NOT NULL)", "closer_has_distance"
        ),
        sa.CheckConstraint("practice_trials BETWEEN 1 AND 60", "practice_is_short"),
    )

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    group_id: Mapped[UUID] = mapped_column(sa.ForeignKey("groups.id"))
    challenge_id: Mapped[UUID] = mapped_column(sa.ForeignKey("challenges.id"))
    kind: Mapped[AdaptationKind] = mapped_column(choice(AdaptationKind, "kind"))
    distance_mm: Mapped[int | None] = mapped_column()
    practice_trials: Mapped[int | None] = mapped_column()
    note: Mapped[str] = mapped_column(text_column(300))
    checks: Mapped[list[Any]] = mapped_column()
    adapted_at: Mapped[datetime] = mapped_column()
    teacher_id: Mapped[UUID] = mapped_column(sa.ForeignKey("teachers.id"))


sa.Index(None, AdaptationRow.group_id, AdaptationRow.challenge_id)


def add_adaptation(session: Session, kept: Kept) -> None:
    """Keep an adaptation."""
    session.add(
        AdaptationRow(
            id=kept.id,
            school_id=kept.school_id,
            group_id=kept.group_id,
            challenge_id=kept.challenge_id,
            kind=kept.kind,
            distance_mm=kept.distance_mm,
            practice_trials=kept.practice_trials,
            note=kept.note,
            checks=[check.value for check in kept.checks],
            adapted_at=kept.adapted_at,
            teacher_id=kept.teacher_id,
        )
    )
    session.flush()


def adaptations_of_groups(
    session: Session, group_ids: Iterable[UUID], challenge_id: UUID
) -> tuple[Kept, ...]:
    """Return what was adapted for some groups, oldest first, in one query."""
    rows = session.scalars(
        sa.select(AdaptationRow)
        .where(
            AdaptationRow.group_id.in_(list(group_ids)),
            AdaptationRow.challenge_id == challenge_id,
        )
        .order_by(AdaptationRow.adapted_at, AdaptationRow.id)
    )
    return tuple(
        Kept(
            id=row.id,
            school_id=row.school_id,
            group_id=row.group_id,
            challenge_id=row.challenge_id,
            kind=row.kind,
            distance_mm=row.distance_mm,
            practice_trials=row.practice_trials,
            note=row.note,
            checks=tuple(AdaptedCheck(check) for check in row.checks),
            adapted_at=row.adapted_at,
            teacher_id=row.teacher_id,
        )
        for row in rows
    )
