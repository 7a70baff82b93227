"""Translates errors of the database that are no fault of ours into sentences for people.

SQLite tells by a code (https://sqlite.org/rescode.html), PostgreSQL by an SQLSTATE
(https://www.postgresql.org/docs/15/errcodes-appendix.html), and by none where nobody answered.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from typing import Any

import sqlalchemy as sa

from journal.domain.errors import Clash, DiskFull, Invalid, JournalError, OutOfReach
from journal.domain.messages import Message

READING = Message("errors.journal_cannot_look_up_what_it_keeps_just")
_Kinds = Mapping[Any, type[DiskFull | OutOfReach | Clash]]
_SQLITE: _Kinds = {
    sqlite3.SQLITE_FULL: DiskFull,
    sqlite3.SQLITE_BUSY: OutOfReach,
    sqlite3.SQLITE_LOCKED: OutOfReach,
    sqlite3.SQLITE_IOERR: OutOfReach,
    sqlite3.SQLITE_CANTOPEN: OutOfReach,
    sqlite3.SQLITE_READONLY: OutOfReach,
}
_SQLITE_CLASHES = {sqlite3.SQLITE_CONSTRAINT_UNIQUE, sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY}
#: The whole state first, then its class of two letters.
_POSTGRESQL: _Kinds = {
    "53100": DiskFull,
    "23505": Clash,  # a unique key is taken
    "55P03": OutOfReach,  # a lock was not to be had in time
    "08": OutOfReach,  # the connection broke
    "25": OutOfReach,  # the transaction was ended from outside or may not write
    "40": OutOfReach,  # two transactions stood in each other's way
    "53": OutOfReach,  # no memory, too many connections
    "57": OutOfReach,  # the server is going down or coming up
    "58": OutOfReach,  # the server's own disk fails
}


def find_failure(error: sa.exc.SQLAlchemyError, *, writing: bool) -> JournalError | None:
    """Return the error for people, or None where the fault is in the journal itself."""
    if isinstance(error, sa.exc.DataError):
        # A form's own check comes first and names the field; this is for what it overlooks.
        return _find_strange_text(error)
    kind = _find_kind(error)
    if kind is OutOfReach and not writing:
        return OutOfReach(READING)
    return None if kind is None else kind()


def _find_strange_text(error: sa.exc.DataError) -> Invalid | None:
    state: str | None = getattr(error.orig, "sqlstate", None)
    if state == "22001":
        return Invalid(Message("errors.one_of_the_texts_is_too_long"))
    if state is None or state in {"22021", "22P05"}:
        return Invalid(Message("errors.text_holds_a_sign_that_cannot_be_kept"))
    return None


def _find_kind(error: sa.exc.SQLAlchemyError) -> type[DiskFull | OutOfReach | Clash] | None:
    if isinstance(error, sa.exc.TimeoutError):
        # Every connection is in use.
        return OutOfReach
    if not isinstance(error, sa.exc.DBAPIError):
        return None
    cause = error.orig
    if isinstance(cause, sqlite3.Error):
        code = getattr(cause, "sqlite_errorcode", 0) or 0
        # Extended codes keep the plain one in their lowest byte.
        return Clash if code in _SQLITE_CLASHES else _SQLITE.get(code & 0xFF)
    state: str | None = getattr(cause, "sqlstate", None)
    if state is None:
        # Nobody answered, so nobody could give a state.
        return OutOfReach if isinstance(error, sa.exc.OperationalError) else None
    return _POSTGRESQL.get(state) or _POSTGRESQL.get(state[:2])
