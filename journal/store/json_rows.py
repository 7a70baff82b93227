"""Rows of other tables in one column of a statement, as JSON: read with the row they belong to.

    MEMBERS = JsonRows(columns, table)
    found = connection.execute(sa.select(..., MEMBERS.where(...).label("members"))).one()
    MEMBERS.read(found.members)

The order of the rows is that of the database: whoever needs another one sorts.
"""

from __future__ import annotations

import json
from collections import namedtuple
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from functools import cached_property
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.ext.compiler import compiles
from sqlalchemy.sql.compiler import SQLCompiler

from journal.store.tables import Moment

_Read = Callable[[Any], Any]


class _as_json_rows(sa.sql.functions.FunctionElement[str]):  # noqa: N801 - it is called as a function
    """All rows of a statement as one JSON text: a list with a list of values for each row."""

    type = sa.Text()
    inherit_cache = True
    name = "as_json_rows"


@compiles(_as_json_rows, "sqlite")
def _for_sqlite(element: _as_json_rows, compiler: SQLCompiler, **more: object) -> str:
    # A JSON column is plain text to SQLite; json() says that it is no string.
    values = ", ".join(
        f"json({compiler.process(column, **more)})"
        if isinstance(column.type, sa.JSON)
        else compiler.process(column, **more)
        for column in element.clauses
    )
    return f"json_group_array(json_array({values}))"


@compiles(_as_json_rows, "postgresql")
def _for_postgresql(element: _as_json_rows, compiler: SQLCompiler, **more: object) -> str:
    values = ", ".join(compiler.process(column, **more) for column in element.clauses)
    return f"CAST(COALESCE(json_agg(json_build_array({values})), '[]') AS TEXT)"


class JsonRows:
    """Some columns of the rows of a source, to be read as one column of another statement."""

    def __init__(self, columns: Sequence[sa.ColumnElement[Any]], source: sa.FromClause) -> None:
        self._select = sa.select(_as_json_rows(*columns)).select_from(source)
        keys = [str(column.key) for column in columns]
        self._make: _Read = namedtuple("JsonRow", keys)._make  # type: ignore[attr-defined]  # noqa: PYI024
        self._columns = columns

    @cached_property
    def _readers(self) -> list[_Read | None]:
        # Not before it is read: a foreign key has no type until the other table is known.
        return [_reader_of(column.type) for column in self._columns]

    def where(self, *conditions: sa.ColumnElement[bool]) -> sa.ScalarSelect[str]:
        """Return the column that holds the rows for which the conditions hold."""
        return self._select.where(*conditions).scalar_subquery()

    def read(self, text: str) -> list[Any]:
        """Return the rows, each a named tuple with the values as the columns have them."""
        return [
            self._make(
                [
                    value if value is None or read is None else read(value)
                    for read, value in zip(self._readers, row, strict=True)
                ]
            )
            for row in json.loads(text)
        ]


def _reader_of(kind: sa.types.TypeEngine[Any]) -> _Read | None:
    """Return what makes a value of this type from that in JSON; None where it is the same."""
    if isinstance(kind, sa.Uuid):
        return UUID
    if isinstance(kind, Moment):
        return _read_moment
    if isinstance(kind, sa.Enum):
        return kind.enum_class
    return None


def _read_moment(text: str) -> datetime:
    moment = datetime.fromisoformat(text)
    return moment.replace(tzinfo=UTC) if moment.tzinfo is None else moment.astimezone(UTC)
