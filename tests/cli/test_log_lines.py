"""The log: one line an event, and nothing in it that somebody entered."""

from __future__ import annotations

import logging
import sys

import pytest
import sqlalchemy as sa

from journal.cli.log_lines import OneLineFormatter
from journal.store.engine import Store
from journal.store.people import StudentRow

SECRET = "Juno-is-my-name"
FORGED = f"{SECRET}\nERROR a forged line"


def _written(error: BaseException | None = None, *told: object) -> str:
    record = logging.LogRecord("x", 20, "x", 1, "asked %s", told or ("/a",), None)
    record.exc_info = error and (type(error), error, error.__traceback__)  # type: ignore[assignment]
    return OneLineFormatter("%(message)s").format(record)


@pytest.mark.parametrize(
    "break_",
    ["\r\n", "\n", "\r", "\v", "\f", "\x1c", "\x85", "\u2028", "\u2029", "\x1b[2J", "\ud800"],
)
def test_nothing_sent_can_forge_a_line(break_: str) -> None:
    """Whatever some reader of logs takes for a new line, and what a terminal obeys, is visible."""
    written = _written(None, f"/a{break_}ERROR b")
    assert 1 == len(written.splitlines())
    assert written.isprintable()
    written.encode("utf-8")


def _fail(store: Store) -> None:
    with store.open_session(writing=True) as session:
        session.execute(sa.insert(StudentRow).values(nickname=SECRET, school_id=None))


def test_parameters_of_a_failing_statement_stay_out(store: Store) -> None:
    """Neither SQLAlchemy's own words nor the log hold them; where it failed is there."""
    with pytest.raises(sa.exc.SQLAlchemyError) as failed:
        _fail(store)
    assert SECRET not in str(failed.value)
    written = _written(failed.value)
    assert SECRET not in written
    assert "in _fail" in written
    assert "SQLITE_CONSTRAINT" in written


def test_words_of_an_exception_stay_out() -> None:
    """A value that a line of code could not take is in no line of the log, nor is its cause's."""

    def read() -> None:
        try:
            int(SECRET)
        except ValueError as error:
            raise KeyError(FORGED) from error

    try:
        read()
    except KeyError:
        written = _written(sys.exc_info()[1])
    assert SECRET not in written
    assert "forged line" not in written
    assert ["builtins.ValueError", "builtins.KeyError"] == [
        line.split()[0] for line in written.splitlines() if line.startswith("builtins.")
    ]


def test_a_postgresql_detail_stays_out() -> None:
    """Its message quotes the values of the row; the state that names the failure is kept."""

    class UniqueViolationError(Exception):
        sqlstate = "23505"

    told = f"duplicate key value\nDETAIL:  Key (nickname)=({SECRET}) already exists."
    written = _written(UniqueViolationError(told))
    assert SECRET not in written
    assert "23505" in written
