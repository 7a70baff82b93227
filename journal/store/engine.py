"""The database itself: connections, who waits for whom, what is done about a failure.

SQLite is the default; any other SQLAlchemy address (PostgreSQL) works by the setting alone.

Writing works come one after the other, so that what a service has read still holds when it writes
(no sixth member, no fourth attempt). SQLite has one writer anyway. On PostgreSQL the works of one
`turn`, which is a school, wait for each other, and a work without a turn waits for all: by advisory
locks, which end with the transaction, and hold for every process on that database. Reading waits
for nobody.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from sqlalchemy.orm import Session, sessionmaker

from journal.domain.errors import OutOfReach
from journal.store.failures import find_failure

_WRITING = "journal_writing"
_CONNECT_S = 5
#: So long a writer waits for its turn, and so long where the writer before it waited in vain:
#: threads that all wait for one that holds the database would leave none to read with.
_PATIENCE_S = 5.0
_LITTLE_PATIENCE_S = 0.1
#: Whoever is next waits for another program; after this the others do not queue behind it.
_LONG_WAIT_S = 0.5
_STUCK_FOR_S = 10.0
#: Names all turns together; any number would do that no other program on the database uses.
_ALL_TURNS = 0x6A6F75726E616C
#: A process that stands still in the middle of a work must not stop all others for ever.
_TIMES = (
    "set_config('lock_timeout', CAST(:wait_ms AS text), true), "
    "set_config('idle_in_transaction_session_timeout', '60s', true)"
)
_WAIT_FOR_TURN = sa.text(
    f"SELECT {_TIMES}, pg_advisory_xact_lock_shared({_ALL_TURNS}), pg_advisory_xact_lock(:turn)"
)
_WAIT_FOR_ALL = sa.text(f"SELECT {_TIMES}, pg_advisory_xact_lock({_ALL_TURNS})")
# What may be left out waits for nobody, and not for the disk either.
_AT_ONCE = sa.text(
    "SELECT set_config('lock_timeout', '50ms', true), set_config('synchronous_commit', 'off', true)"
)


class Store:
    """A database address with its doors: for reading, for writing, for what may be left out.

    `durable=False` is for throw-away databases: an acknowledged trial may then be lost with the
    power, so a running journal never uses it.
    """

    def __init__(self, url: str, *, durable: bool = True) -> None:
        self.url = sa.engine.make_url(url)
        self.is_sqlite = self.url.get_backend_name() == "sqlite"
        # One writer at a time: waiting here cuts the tail that SQLite's own busy loop has.
        self._writer = threading.Lock()
        self._next_waits_since: float | None = None
        self._stuck_until = 0.0
        if self.is_sqlite:
            self.engine = sa.create_engine(self.url, hide_parameters=True)
            _tune_sqlite(self.engine, "FULL" if durable else "OFF", self._patience_s)
            reading = self.engine
            at_once = sa.create_engine(self.url, hide_parameters=True, poolclass=sa.pool.NullPool)
            _tune_sqlite(at_once, "NORMAL", lambda: 0.0)
        else:
            self.engine = sa.create_engine(
                self.url,
                hide_parameters=True,
                pool_pre_ping=True,
                pool_timeout=_CONNECT_S,
                connect_args={"connect_timeout": self.url.query.get("connect_timeout", _CONNECT_S)},
            )
            # All statements of a page see one moment, as they do with SQLite.
            reading = self.engine.execution_options(
                isolation_level="REPEATABLE READ", postgresql_readonly=True
            )
            at_once = self.engine
        self._reading = sessionmaker(reading, expire_on_commit=False)
        writing = self.engine.execution_options(**{_WRITING: True})
        self._writing = sessionmaker(writing, expire_on_commit=False)
        self._at_once = sessionmaker(at_once.execution_options(**{_WRITING: True}))

    @contextmanager
    def open_session(self, *, writing: bool, turn: UUID | None = None) -> Iterator[Session]:
        """Open a session that commits on return and rolls back on raise.

        Raises NotKept, or Clash, where the database could not do it.
        """
        try:
            if not writing:
                with self._reading() as session:
                    yield session
                return
            with self._write(turn) as session:
                yield session
            self._stuck_until = 0.0
        except sa.exc.SQLAlchemyError as error:
            failure = find_failure(error, writing=writing)
            if failure is None:
                raise
            if writing and isinstance(failure, OutOfReach):
                self._stuck_until = time.monotonic() + _STUCK_FOR_S
            raise failure from error

    def try_to_write(self, write: Callable[[Session], None]) -> bool:
        """Write what may be left out, at once or not at all; return whether it was kept.

        It waits for no writer and for no disk, so a page that only reads may ask for it.
        """
        if not self._writer.acquire(blocking=False):
            return False
        try:
            with self._at_once.begin() as session:
                if not self.is_sqlite:
                    session.execute(_AT_ONCE)
                write(session)
        except sa.exc.SQLAlchemyError as error:
            if find_failure(error, writing=True) is None:
                raise
            return False
        finally:
            self._writer.release()
        return True

    def unsafe_settings(self) -> tuple[str, ...]:
        """Return the settings of the server under which what was committed may still be lost."""
        if self.is_sqlite:
            return ()
        with self.engine.connect() as connection:
            return tuple(
                name
                for name in ("fsync", "synchronous_commit")
                if connection.exec_driver_sql(f"SHOW {name}").scalar_one() == "off"
            )

    def close(self) -> None:
        """Close every connection."""
        self.engine.dispose()

    @contextmanager
    def _write(self, turn: UUID | None) -> Iterator[Session]:
        if not self.is_sqlite:
            with self._writing.begin() as session:
                wait_for_turn(session.connection(), turn, self._patience_s())
                yield session
            return
        self._take_turn()
        try:
            with self._writing.begin() as session:
                # The transaction begins with its first statement, and here the lock is waited for.
                self._next_waits_since = time.monotonic()
                session.connection()
                self._next_waits_since = None
                yield session
        finally:
            self._next_waits_since = None
            self._writer.release()

    def _take_turn(self) -> None:
        end = time.monotonic() + self._patience_s()
        while not self._writer.acquire(timeout=_LITTLE_PATIENCE_S):
            since, now = self._next_waits_since, time.monotonic()
            if now > end or (since is not None and now - since > _LONG_WAIT_S):
                raise OutOfReach

    def _patience_s(self) -> float:
        return _LITTLE_PATIENCE_S if time.monotonic() < self._stuck_until else _PATIENCE_S


def wait_for_turn(
    connection: sa.Connection, turn: UUID | None, patience_s: float = _PATIENCE_S
) -> None:
    """Wait on PostgreSQL until no work of the same turn runs; without a turn, until none runs."""
    wait = {"wait_ms": int(patience_s * 1000)}
    if turn is None:
        connection.execute(_WAIT_FOR_ALL, wait)
    else:
        # A lock's number is a signed one of 64 bits; two schools that share one only wait.
        number = int.from_bytes(turn.bytes[:8], signed=True)
        connection.execute(_WAIT_FOR_TURN, wait | {"turn": number})


def _tune_sqlite(engine: sa.Engine, synchronous: str, patience_s: Callable[[], float]) -> None:
    @sa.event.listens_for(engine, "connect")
    def set_pragmas(connection: Any, _record: object) -> None:  # noqa: ANN401 - the driver's own
        # The driver's own transaction control is switched off: it would begin too late.
        connection.isolation_level = None
        cursor = connection.cursor()
        cursor.execute(f"PRAGMA busy_timeout={int(patience_s() * 1000)}")
        cursor.execute("PRAGMA journal_mode=WAL")
        cursor.execute(f"PRAGMA synchronous={synchronous}")
        cursor.execute("PRAGMA foreign_keys=ON")
        cursor.close()

    @sa.event.listens_for(engine, "begin")
    def begin(connection: sa.Connection) -> None:
        # A deferred transaction that reads and then writes fails at once when another one wrote in
        # between, whatever the timeout; so every writing one takes the lock at its start.
        if not connection.get_execution_options().get(_WRITING, False):
            connection.exec_driver_sql("BEGIN")
            return
        cursor = connection.connection.cursor()
        cursor.execute(f"PRAGMA busy_timeout={int(patience_s() * 1000)}")
        cursor.close()
        connection.exec_driver_sql("BEGIN IMMEDIATE")
