"""What all tables share: the base row, names of constraints, UTC moments, enums by value."""

from __future__ import annotations

from datetime import UTC, datetime
from enum import StrEnum
from typing import Any
from uuid import UUID, uuid4

import sqlalchemy as sa
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column
from sqlalchemy.types import TypeDecorator


class Moment(TypeDecorator[datetime]):
    """A UTC instant; SQLite forgets the zone, so it is put back on the way out."""

    impl = sa.DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: sa.Dialect) -> datetime | None:
        """Refuse a moment without a zone: it would be ambiguous."""
        del dialect
        if value is None:
            return None
        if value.tzinfo is None:
            message = f"A moment needs a zone, {value.isoformat()} has none."
            raise ValueError(message)
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: sa.Dialect) -> datetime | None:
        """Return the instant in UTC."""
        del dialect
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


def choice(kind: type[StrEnum], name: str) -> sa.Enum:
    """Return the column type for an enum: text by value, with a named CHECK."""
    return sa.Enum(
        kind,
        name=name,
        native_enum=False,
        create_constraint=True,
        length=24,
        values_callable=lambda members: [member.value for member in members],
    )


class Row(DeclarativeBase):
    """The base of every table; each row carries the school it belongs to."""

    metadata = sa.MetaData(
        naming_convention={
            "ix": "ix_%(table_name)s_%(column_0_N_name)s",
            "uq": "uq_%(table_name)s_%(column_0_N_name)s",
            "ck": "ck_%(table_name)s_%(constraint_name)s",
            "fk": "fk_%(table_name)s_%(column_0_name)s",
            "pk": "pk_%(table_name)s",
        }
    )
    type_annotation_map = {  # noqa: RUF012 - the name and type are SQLAlchemy's
        datetime: Moment(),
        UUID: sa.Uuid(),
        dict[str, Any]: sa.JSON(),
        list[Any]: sa.JSON(),
    }

    id: Mapped[UUID] = mapped_column(primary_key=True, default=uuid4)


def text_column(length: int) -> sa.String:
    """Return a bounded text type; the bound is a promise that a form can check."""
    return sa.String(length)
