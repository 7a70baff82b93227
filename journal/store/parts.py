"""Parts of groups and their events."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.orm import Mapped, Session, mapped_column

from journal.domain.errors import NotFound
from journal.domain.messages import Message
from journal.domain.parts import Part, PartEvent, PartEventKind
from journal.store.json_rows import JsonRows
from journal.store.people import StudentRow
from journal.store.tables import Row, choice, text_column


class PartRow(Row):
    """A shared part of a group (owner empty) or a student's own."""

    __tablename__ = "parts"

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    group_id: Mapped[UUID] = mapped_column(sa.ForeignKey("groups.id"), index=True)
    challenge_id: Mapped[UUID] = mapped_column(sa.ForeignKey("challenges.id"))
    key: Mapped[str] = mapped_column(text_column(60))
    owner_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("students.id"))


# Two indexes, because an empty owner is never equal to another empty owner.
sa.Index(
    "uq_parts_shared",
    PartRow.school_id,
    PartRow.group_id,
    PartRow.challenge_id,
    PartRow.key,
    unique=True,
    sqlite_where=PartRow.owner_id.is_(None),
    postgresql_where=PartRow.owner_id.is_(None),
)
sa.Index(
    "uq_parts_own",
    PartRow.school_id,
    PartRow.group_id,
    PartRow.challenge_id,
    PartRow.key,
    PartRow.owner_id,
    unique=True,
    sqlite_where=PartRow.owner_id.is_not(None),
    postgresql_where=PartRow.owner_id.is_not(None),
)


class PartEventRow(Row):
    """Something that happened to a part."""

    __tablename__ = "part_events"

    school_id: Mapped[UUID] = mapped_column(sa.ForeignKey("schools.id"))
    part_id: Mapped[UUID] = mapped_column(sa.ForeignKey("parts.id"), index=True)
    kind: Mapped[PartEventKind] = mapped_column(choice(PartEventKind, "kind"))
    at: Mapped[datetime] = mapped_column()
    student_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("students.id"))
    borrower_group_id: Mapped[UUID | None] = mapped_column(sa.ForeignKey("groups.id"), index=True)
    note: Mapped[str] = mapped_column(text_column(200))


_COLUMNS = PartRow.__table__.c
_EVENTS = PartEventRow.__table__.c
# Built once: every trial asks it.
_EVENTS_OF_PARTS = (
    sa.select(*_EVENTS)
    .where(
        _EVENTS.part_id.in_(sa.bindparam("part_ids", type_=_EVENTS.part_id.type, expanding=True))
    )
    .order_by(_EVENTS.at)
)

_EVENT_ROWS = JsonRows(tuple(_EVENTS), PartEventRow.__table__)
_THEIR_EVENTS = _EVENT_ROWS.where(_EVENTS.part_id == _COLUMNS.id)


def keep_parts(session: Session, parts: Iterable[Part]) -> None:
    """Insert parts that come with ids of their own, each once: two tablets may be first."""
    values = [
        {
            "id": part.id,
            "school_id": part.school_id,
            "group_id": part.group_id,
            "challenge_id": part.challenge_id,
            "key": part.key,
            "owner_id": part.owner_id,
        }
        for part in parts
    ]
    if not values:
        return
    is_sqlite = session.get_bind().dialect.name == "sqlite"
    insert = (sqlite.insert if is_sqlite else postgresql.insert)(PartRow)
    session.execute(insert.on_conflict_do_nothing(), values)


def get_part(session: Session, part_id: UUID) -> Part:
    """Return the part; raise NotFound."""
    found = _select(session, PartRow.id == part_id)
    if not found:
        message = Message("parts.no_such_part")
        raise NotFound(message)
    return found[0]


def parts_of_groups(
    session: Session, group_ids: Iterable[UUID], challenge_id: UUID
) -> tuple[Part, ...]:
    """Return the parts of some groups for a challenge, in one query."""
    return _select(
        session, PartRow.group_id.in_(list(group_ids)), PartRow.challenge_id == challenge_id
    )


def parts_by_id_or_group(
    session: Session, part_ids: Iterable[UUID], group_ids: Iterable[UUID], challenge_id: UUID
) -> tuple[Part, ...]:
    """Return some parts by their ids together with all of some groups, in one query."""
    return _select(
        session,
        sa.or_(PartRow.id.in_(list(part_ids)), PartRow.group_id.in_(list(group_ids))),
        PartRow.challenge_id == challenge_id,
    )


def parts_at_hand(
    session: Session, group_id: UUID, challenge_id: UUID, used_revision_ids: Iterable[UUID]
) -> tuple[tuple[Part, ...], tuple[PartEvent, ...]]:
    """Return a group's parts, those it ever borrowed or used, and what happened to them.

    In one query, for a challenge.
    """
    borrowed = sa.select(_EVENTS.part_id).where(
        _EVENTS.kind == PartEventKind.BORROWED, _EVENTS.borrower_group_id == group_id
    )
    # Here and not in store/revisions.py, which needs this module.
    made = sa.table("revisions", sa.column("id", sa.Uuid()), sa.column("part_id", sa.Uuid()))
    used = sa.select(made.c.part_id).where(made.c.id.in_(list(used_revision_ids)))
    found = session.execute(
        sa.select(*_COLUMNS, StudentRow.nickname, _THEIR_EVENTS.label("events"))
        .outerjoin(StudentRow, StudentRow.id == _COLUMNS.owner_id)
        .where(
            _COLUMNS.challenge_id == challenge_id,
            sa.or_(_COLUMNS.group_id == group_id, _COLUMNS.id.in_(borrowed), _COLUMNS.id.in_(used)),
        )
        .order_by(StudentRow.nickname, _COLUMNS.key, _COLUMNS.id)
    ).all()
    events = [event for row in found for event in _EVENT_ROWS.read(row.events)]
    return tuple(map(part_of_row, found)), tuple(map(event_of_row, events))


def add_event(session: Session, school_id: UUID, event: PartEvent) -> None:
    """Keep an event of a part."""
    session.add(
        PartEventRow(
            id=event.id,
            school_id=school_id,
            part_id=event.part_id,
            kind=event.kind,
            at=event.at,
            student_id=event.student_id,
            borrower_group_id=event.borrower_group_id,
            note=event.note,
        )
    )
    session.flush()


def events_of_parts(session: Session, part_ids: Iterable[UUID]) -> tuple[PartEvent, ...]:
    """Return the events of some parts in order."""
    rows = session.connection().execute(_EVENTS_OF_PARTS, {"part_ids": list(part_ids)})
    return tuple(map(event_of_row, rows))


def event_of_row(row: Any) -> PartEvent:  # noqa: ANN401 - a row of the table or a statement
    """Return the event that a row with the columns of the table holds."""
    return PartEvent(
        id=row.id,
        part_id=row.part_id,
        kind=row.kind,
        at=row.at,
        student_id=row.student_id,
        borrower_group_id=row.borrower_group_id,
        note=row.note,
    )


def part_of_row(row: Any) -> Part:  # noqa: ANN401 - a row of a statement
    """Return the part that a row with the columns of the table and a nickname holds."""
    return Part(
        id=row.id,
        school_id=row.school_id,
        group_id=row.group_id,
        challenge_id=row.challenge_id,
        key=row.key,
        owner_id=row.owner_id,
        owner_nickname=row.nickname or "",
    )


def borrowed_by(session: Session, group_id: UUID, challenge_id: UUID) -> tuple[Part, ...]:
    """Return the parts of other groups that this group has borrowed."""
    ids = sa.select(PartEventRow.part_id).where(
        PartEventRow.kind == PartEventKind.BORROWED, PartEventRow.borrower_group_id == group_id
    )
    return _select(
        session,
        PartRow.id.in_(ids),
        PartRow.challenge_id == challenge_id,
        PartRow.group_id != group_id,
    )


def _select(session: Session, *conditions: sa.ColumnElement[bool]) -> tuple[Part, ...]:
    found = session.execute(
        sa.select(*_COLUMNS, StudentRow.nickname)
        .outerjoin(StudentRow, StudentRow.id == _COLUMNS.owner_id)
        .where(*conditions)
        .order_by(StudentRow.nickname, _COLUMNS.key, _COLUMNS.id)
    )
    return tuple(map(part_of_row, found))
