"""Entries that came late and wait for the teacher to place them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any, cast
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.errors import NotFound
from journal.domain.messages import Message
from journal.domain.parked_trials import (
    MOST_REASON_LETTERS,
    ParkedTrial,
    ParkReason,
)
from journal.domain.trial_fields import read_content
from journal.domain.trials import TrialEntry
from journal.store.parts import PartRow
from journal.store.revisions import RevisionRow
from journal.store.tables import Row, choice, text_column
from journal.store.trials import content_hash


class ParkedTrialRow(Row):
    """An entry as it was sent, under the id that the tablet gave it; never changed."""

    __tablename__ = "parked_trials"

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    group_id: Mapped[UUID] = mapped_column(sa.ForeignKey("groups.id"), index=True)
    entry: Mapped[dict[str, Any]] = mapped_column()
    content_hash: Mapped[str] = mapped_column(text_column(64))
    why: Mapped[ParkReason] = mapped_column(choice(ParkReason, "why"))
    made_at: Mapped[datetime] = mapped_column()
    clock_slow_s: Mapped[int] = mapped_column(sa.BigInteger)
    received_at: Mapped[datetime] = mapped_column()
    decided_at: Mapped[datetime | None] = mapped_column()
    teacher_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("teachers.id"))
    session_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("sessions.id"))
    reason: Mapped[str] = mapped_column(text_column(MOST_REASON_LETTERS))


_TABLE = cast("sa.Table", ParkedTrialRow.__table__)
_INSERT_ONCE: dict[str, sa.UpdateBase] = {
    "sqlite": sqlite.insert(_TABLE)
    .on_conflict_do_nothing(index_elements=["id"])
    .returning(_TABLE.c.id),
    "postgresql": postgresql.insert(_TABLE)
    .on_conflict_do_nothing(index_elements=["id"])
    .returning(_TABLE.c.id),
}


def park_once(
    session: Session, parked: ParkedTrial, sent: Mapping[str, Any]
) -> tuple[ParkedTrial, bool, bool]:
    """Keep an entry unless its id is there.

    Return it as kept, whether it is new, and whether what was kept is what was sent.
    """
    connection = session.connection()
    sent_hash = content_hash(sent)
    values = {
        "id": parked.id,
        "school_id": parked.school_id,
        "group_id": parked.group_id,
        "entry": dict(sent),
        "content_hash": sent_hash,
        "why": parked.why,
        "made_at": parked.made_at,
        "clock_slow_s": parked.clock_slow_s,
        "received_at": parked.received_at,
        "reason": "",
    }
    done = connection.execute(_INSERT_ONCE[connection.dialect.name], values)
    added = done.first() is not None
    row = session.get_one(ParkedTrialRow, parked.id)
    return _parked(row), added, row.content_hash == sent_hash


def get_parked(session: Session, parked_id: UUID) -> ParkedTrial:
    """Return a parked entry; raise NotFound."""
    row = session.get(ParkedTrialRow, parked_id, populate_existing=True)
    if row is None:
        message = Message("parked_trials.no_such_entry")
        raise NotFound(message)
    return _parked(row)


def find_unplaced(session: Session, parked_id: UUID) -> ParkReason | None:
    """Return why an entry was parked that waits or was discarded; None for every other id."""
    return session.scalar(
        sa.select(ParkedTrialRow.why).where(
            ParkedTrialRow.id == parked_id, ParkedTrialRow.session_id.is_(None)
        )
    )


def parked_of_groups(session: Session, group_ids: Iterable[UUID]) -> tuple[ParkedTrial, ...]:
    """Return every parked entry of some groups, in the order in which they were made."""
    rows = session.scalars(
        sa.select(ParkedTrialRow)
        .where(ParkedTrialRow.group_id.in_(list(group_ids)))
        .order_by(ParkedTrialRow.made_at, ParkedTrialRow.id)
    )
    return tuple(_parked(row) for row in rows)


def challenges_of_entry(session: Session, entry: TrialEntry) -> frozenset[UUID]:
    """Return the challenges whose parts an entry names."""
    return frozenset(
        session.scalars(
            sa.select(PartRow.challenge_id)
            .join(RevisionRow, RevisionRow.part_id == PartRow.id)
            .where(RevisionRow.id.in_(entry.revision_ids))
            .distinct()
        )
    )


def count_waiting(session: Session, group_ids: Iterable[UUID]) -> int:
    """Count the entries of some groups that wait for the teacher."""
    return (
        session.scalar(
            sa.select(sa.func.count())
            .select_from(ParkedTrialRow)
            .where(
                ParkedTrialRow.group_id.in_(list(group_ids)), ParkedTrialRow.decided_at.is_(None)
            )
        )
        or 0
    )


def decide(
    session: Session,
    parked_id: UUID,
    *,
    at: datetime,
    teacher_id: UUID | None,
    session_id: UUID | None,
    reason: str,
) -> bool:
    """Note what the teacher decided; False where that was done before."""
    done = session.scalars(
        sa.update(ParkedTrialRow)
        .where(ParkedTrialRow.id == parked_id, ParkedTrialRow.decided_at.is_(None))
        .values(decided_at=at, teacher_id=teacher_id, session_id=session_id, reason=reason)
        .returning(ParkedTrialRow.id)
    ).all()
    return bool(done)


def _parked(row: ParkedTrialRow) -> ParkedTrial:
    return ParkedTrial(
        id=row.id,
        school_id=row.school_id,
        group_id=row.group_id,
        entry=read_content(row.entry),
        why=row.why,
        made_at=row.made_at,
        clock_slow_s=row.clock_slow_s,
        received_at=row.received_at,
        decided_at=row.decided_at,
        teacher_id=row.teacher_id,
        session_id=row.session_id,
        reason=row.reason,
    )
