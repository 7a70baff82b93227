"""The database itself: connections, pragmas, one writer at a time.

SQLite is the default; any other SQLAlchemy address (PostgreSQL) works by the setting alone.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session, sessionmaker

_WRITING = "journal_writing"


class Store:
    """A database address with its two doors: one for reading, one for writing.

    `durable=False` is for throw-away databases: an acknowledged trial may then be lost with the
    power, so a running journal never uses it.
    """

    def __init__(self, url: str, *, durable: bool = True) -> None:
        self.url = sa.engine.make_url(url)
        self.is_sqlite = self.url.get_backend_name() == "sqlite"
        self.engine = sa.create_engine(self.url, pool_pre_ping=not self.is_sqlite)
        # One writer at a time: waiting here cuts the tail that SQLite's own busy loop has.
        self._writer = threading.Lock()
        if self.is_sqlite:
            _tune_sqlite(self.engine, durable=durable)
        self._reading = sessionmaker(self.engine, expire_on_commit=False)
        writing = self.engine.execution_options(**{_WRITING: True})
        self._writing = sessionmaker(writing, expire_on_commit=False)

    @contextmanager
    def open_session(self, *, writing: bool) -> Iterator[Session]:
        """Open a session that commits on return and rolls back on raise."""
        if not writing:
            with self._reading() as session:
                yield session
            return
        if not self.is_sqlite:
            with self._writing.begin() as session:
                yield session
            return
        with self._writer, self._writing.begin() as session:
            yield session

    def close(self) -> None:
        """Close every connection."""
        self.engine.dispose()


def _tune_sqlite(engine: sa.Engine, *, durable: bool) -> None:
    @sa.event.listens_for(engine, "connect")
    def set_pragmas(connection: Any, _record: object) -> None:  # noqa: ANN401 - the driver's own
        # The driver's own transaction control is switched off: it would begin too late.
        connection.isolation_level = None
        cursor = connection.cursor()
        cursor.execute("PRAGMA journal_mode=WAL")
        cursor.execute(f"PRAGMA synchronous={'FULL' if durable else 'OFF'}")
        cursor.execute("PRAGMA foreign_keys=ON")
        cursor.execute("PRAGMA busy_timeout=5000")
        cursor.close()

    @sa.event.listens_for(engine, "begin")
    def begin(connection: sa.Connection) -> None:
        # A deferred transaction that reads and then writes fails at once when another one wrote in
        # between, whatever the timeout; so every writing one takes the lock at its start.
        writing = connection.get_execution_options().get(_WRITING, False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")
