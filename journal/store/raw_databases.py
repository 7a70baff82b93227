"""SQLite files of unknown origin: opened read-only, checked, copied row by row.

Nothing in such a file is believed: its rows go into a database that our own migrations made, so
every rule of the tables holds for them, and each value is read back once.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import sqlalchemy as sa

from journal.domain.errors import Refused
from journal.domain.messages import Message
from journal.store import migrate
from journal.store.engine import Store
from journal.store.models import METADATA
from journal.store.tables import Row

_VERSION_TABLE = "alembic_version"


def open_to_read(database: Path) -> sqlite3.Connection:
    """Open a database file without the right to change it."""
    address = f"{database.absolute().as_uri()}?mode=ro"
    connection = sqlite3.connect(address, uri=True)
    log = database.with_name(f"{database.name}-wal")
    try:
        connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except sqlite3.OperationalError:
        connection.close()
        if log.exists() and log.stat().st_size:
            raise
        # In a folder that can only be read SQLite cannot make the files it keeps beside it. With
        # no log there, nothing is missing in the main file.
        connection = sqlite3.connect(f"{address}&immutable=1", uri=True)
    # As advised for files of unknown origin (sqlite.org, "Defense Against The Dark Arts").
    connection.execute("PRAGMA trusted_schema=OFF")
    connection.execute("PRAGMA cell_size_check=ON")
    return connection


def require_sound(connection: sqlite3.Connection) -> None:
    """Raise Refused where the database is damaged, or a row points to one that is not there."""
    try:
        (report,) = connection.execute("PRAGMA integrity_check").fetchone()
        if report != "ok":
            raise Refused(Message("databases.database_is_damaged", report=report))
        lost = connection.execute("PRAGMA foreign_key_check").fetchall()
    except sqlite3.DatabaseError as error:
        raise Refused(Message("databases.database_is_damaged", report=str(error))) from error
    if lost:
        raise Refused(
            Message(
                "databases.rows_point_to_rows_that_are_not_there", count=len(lost), table=lost[0][0]
            )
        )


def find_shape(connection: sqlite3.Connection) -> str:
    """Return the shape that the database says it has; an empty one where it says none."""
    try:
        row = connection.execute(f"SELECT version_num FROM {_VERSION_TABLE}").fetchone()  # noqa: S608 (ours)
    except sqlite3.OperationalError:
        return ""
    return str(row[0]) if row else ""


def count_rows(connection: sqlite3.Connection) -> dict[str, int]:
    """Return the rows of each table."""
    counted = {}
    for name in _tables(connection):
        (count,) = connection.execute(f"SELECT count(*) FROM {_quoted(name)}").fetchone()  # noqa: S608 (quoted)
        counted[name] = int(count)
    return counted


def take_over(source: Path, goal: Path, shape: str) -> Store:
    """Make a new database at `goal`, take all rows of `source` into it, bring it to today's shape.

    Raises Refused where the source has other tables or columns than its shape, or rows that break
    a rule. The caller closes the store.
    """
    store = Store(sa.URL.create("sqlite", database=str(goal)).render_as_string())
    try:
        migrate.upgrade(store.engine, shape)
        store.close()
        _take_rows(source, goal)
        migrate.upgrade(store.engine)
        _read_everything(store)
    except Refused:
        store.close()
        raise
    except sqlite3.Error as error:
        store.close()
        raise Refused(
            Message("databases.database_breaks_a_rule_of_the_journal", error=str(error))
        ) from error
    except Exception as error:
        # Migrations and readers meet values here that they were never made for.
        store.close()
        raise Refused(
            Message("databases.database_holds_what_no_journal_does", error=_first_line(error))
        ) from error
    return store


def _take_rows(source: Path, goal: Path) -> None:
    with closing(sqlite3.connect(goal.absolute().as_uri(), uri=True)) as connection:
        connection.execute("PRAGMA trusted_schema=OFF")
        connection.execute("PRAGMA foreign_keys=OFF")
        connection.execute(
            "ATTACH DATABASE ? AS given", (f"{source.absolute().as_uri()}?mode=ro&immutable=1",)
        )
        _require_alike(connection)
        with connection:
            for name in _tables(connection):
                columns = ", ".join(
                    _quoted(column) for column in _columns(connection, "main", name)
                )
                table = _quoted(name)
                connection.execute(f"DELETE FROM main.{table}")  # noqa: S608 (names of ours)
                connection.execute(
                    f"INSERT INTO main.{table} ({columns}) SELECT {columns} FROM given.{table}"  # noqa: S608 (as above)
                )
        require_sound(connection)


def _require_alike(connection: sqlite3.Connection) -> None:
    """Require the tables and columns of our own migrations, and nothing more that could run."""
    if _things(connection, "given") != _things(connection, "main"):
        raise Refused(Message("databases.database_has_other_tables_than_a_journal"))
    for name in _tables(connection):
        if set(_columns(connection, "given", name)) != set(_columns(connection, "main", name)):
            raise Refused(Message("databases.table_has_other_columns_than_in_a_journal", name=name))


def _things(connection: sqlite3.Connection, schema: str) -> set[tuple[str, str, bool]]:
    """Return tables, views and triggers by kind and name, and whether a module makes the rows."""
    found = connection.execute(
        f"SELECT type, name, sql LIKE 'CREATE VIRTUAL%' FROM {schema}.sqlite_master"  # noqa: S608 (ours)
        " WHERE type <> 'index' AND name NOT LIKE 'sqlite~_%' ESCAPE '~'"
    )
    return {(kind, name, bool(is_virtual)) for kind, name, is_virtual in found}


def _tables(connection: sqlite3.Connection) -> list[str]:
    found = connection.execute(
        "SELECT name FROM main.sqlite_master WHERE type = 'table'"
        " AND name NOT LIKE 'sqlite~_%' ESCAPE '~' ORDER BY name"
    )
    return [name for (name,) in found]


def _columns(connection: sqlite3.Connection, schema: str, table: str) -> list[str]:
    found = connection.execute(f"PRAGMA {schema}.table_info({_quoted(table)})")
    return [row[1] for row in found]


def _quoted(name: str) -> str:
    return '"' + name.replace('"', '""') + '"'


def _read_everything(store: Store) -> None:
    """Read each value once, as a page would: what cannot be read is found here and not there."""
    with store.engine.connect() as connection:
        for table in METADATA.sorted_tables:
            for row in connection.execute(sa.select(table)):
                for column, value in zip(table.columns, row, strict=True):
                    if value is not None and not _fits(column, value):
                        raise Refused(
                            Message(
                                "databases.holds_a_that_is_none",
                                name=table.name,
                                column_name=column.name,
                            )
                        )


def _fits(column: sa.Column[object], value: object) -> bool:
    if isinstance(column.type, sa.JSON):
        # A row says whether it keeps a list or an object; JSON could be either.
        row = next(
            mapper.class_ for mapper in Row.registry.mappers if mapper.local_table is column.table
        )
        return isinstance(value, list if "list[" in row.__annotations__[column.name] else dict)
    kind = column.type.python_type
    return isinstance(value, kind) or (kind is float and isinstance(value, int))


def _first_line(error: Exception) -> str:
    return str(error).strip().split("\n", 1)[0]
