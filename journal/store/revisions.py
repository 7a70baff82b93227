"""Revisions of parts: added, set aside, read back; only one without trials is ever edited."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict
from datetime import datetime
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.errors import NotFound
from journal.domain.messages import Message
from journal.domain.parts import Part
from journal.domain.revisions import Change, MaterialAmount, Revision, RevisionEntry
from journal.store.parts import PartRow
from journal.store.tables import Row, text_column


class RevisionRow(Row):
    """A revision of a part."""

    __tablename__ = "revisions"
    __table_args__ = (sa.UniqueConstraint("school_id", "part_id", "number"),)

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    group_id: Mapped[UUID] = mapped_column(sa.ForeignKey("groups.id"), index=True)
    part_id: Mapped[UUID] = mapped_column(sa.ForeignKey("parts.id"), index=True)
    number: Mapped[int] = mapped_column()
    parent_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("revisions.id"))
    made_at: Mapped[datetime] = mapped_column()
    session_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("sessions.id"))
    changes: Mapped[list[Any]] = mapped_column()
    materials: Mapped[list[Any]] = mapped_column()
    reason: Mapped[str] = mapped_column(text_column(600))
    prediction: Mapped[str] = mapped_column(text_column(600))
    makers: Mapped[list[Any]] = mapped_column()
    deciders: Mapped[list[Any]] = mapped_column()
    scribe: Mapped[str] = mapped_column(text_column(24))
    set_aside_at: Mapped[datetime | None] = mapped_column()


_COLUMNS = RevisionRow.__table__.c
# Built once: every trial asks it.
_OF_PARTS = (
    sa.select(*_COLUMNS)
    .where(
        _COLUMNS.part_id.in_(sa.bindparam("part_ids", type_=_COLUMNS.part_id.type, expanding=True))
    )
    .order_by(_COLUMNS.part_id, _COLUMNS.number)
)


def add_revision(
    session: Session,
    part: Part,
    entry: RevisionEntry,
    *,
    session_id: UUID | None,
    made_at: datetime,
) -> Revision:
    """Add the part's next revision."""
    last = session.scalar(
        sa.select(sa.func.max(RevisionRow.number)).where(RevisionRow.part_id == part.id)
    )
    row = RevisionRow(
        school_id=part.school_id,
        group_id=part.group_id,
        part_id=part.id,
        number=(last or 0) + 1,
        parent_id=entry.parent_id,
        made_at=made_at,
        session_id=session_id,
        **_content(entry),
    )
    session.add(row)
    session.flush()
    return revision_of_row(row)


def replace_content(session: Session, revision_id: UUID, entry: RevisionEntry) -> None:
    """Put other content into a revision that has no trials yet."""
    session.execute(
        sa.update(RevisionRow)
        .where(RevisionRow.id == revision_id)
        .values(parent_id=entry.parent_id, **_content(entry))
    )


def set_aside(session: Session, revision_id: UUID, at: datetime | None) -> None:
    """Put a revision away, or (None) take it up again."""
    session.execute(
        sa.update(RevisionRow).where(RevisionRow.id == revision_id).values(set_aside_at=at)
    )


def get_revision(session: Session, revision_id: UUID) -> Revision:
    """Return the revision; raise NotFound."""
    row = session.get(RevisionRow, revision_id, populate_existing=True)
    if row is None:
        message = Message("revisions.no_such_revision")
        raise NotFound(message)
    return revision_of_row(row)


def revisions_by_id(session: Session, revision_ids: Iterable[UUID]) -> tuple[Revision, ...]:
    """Return the revisions with these ids, in one query."""
    ids = list(revision_ids)
    if not ids:
        return ()
    rows = session.scalars(sa.select(RevisionRow).where(RevisionRow.id.in_(ids)))
    return tuple(revision_of_row(row) for row in rows)


def revisions_of_groups(
    session: Session, group_ids: Iterable[UUID], challenge_id: UUID
) -> tuple[Revision, ...]:
    """Return all revisions of some groups for a challenge, by part and number."""
    rows = session.scalars(
        sa.select(RevisionRow)
        .join(PartRow, PartRow.id == RevisionRow.part_id)
        .where(RevisionRow.group_id.in_(list(group_ids)), PartRow.challenge_id == challenge_id)
        .order_by(RevisionRow.part_id, RevisionRow.number)
    )
    return tuple(revision_of_row(row) for row in rows)


def revisions_of_parts(session: Session, part_ids: Iterable[UUID]) -> tuple[Revision, ...]:
    """Return all revisions of some parts, by part and number."""
    rows = session.connection().execute(_OF_PARTS, {"part_ids": list(part_ids)})
    return tuple(revision_of_row(row) for row in rows)


def _content(entry: RevisionEntry) -> dict[str, Any]:
    return {
        "changes": [asdict(change) for change in entry.changes],
        "materials": [asdict(material) for material in entry.materials],
        "reason": entry.reason,
        "prediction": entry.prediction,
        "makers": [str(maker) for maker in entry.maker_ids],
        "deciders": [str(decider) for decider in entry.decider_ids],
        "scribe": entry.scribe,
    }


def revision_of_row(row: Any) -> Revision:  # noqa: ANN401 - a row of the table or a statement
    """Return the revision that a row with the columns of the table holds."""
    return Revision(
        id=row.id,
        school_id=row.school_id,
        group_id=row.group_id,
        part_id=row.part_id,
        number=row.number,
        parent_id=row.parent_id,
        made_at=row.made_at,
        session_id=row.session_id,
        changes=tuple(Change(**change) for change in row.changes),
        materials=tuple(MaterialAmount(**material) for material in row.materials),
        reason=row.reason,
        prediction=row.prediction,
        maker_ids=tuple(UUID(maker) for maker in row.makers),
        decider_ids=tuple(UUID(decider) for decider in row.deciders),
        scribe=row.scribe,
        set_aside_at=row.set_aside_at,
    )
