"""How the log is written: one line an event, and nothing in it that somebody entered."""

from __future__ import annotations

import logging
import traceback
from collections.abc import Iterator
from types import TracebackType

_FORMAT = "%(asctime)s %(levelname)s %(name)s: %(message)s"
_LEFT_OUT = "(its words are left out: they may be what somebody entered)"
#: What a driver tells of a failure without telling any value.
_SAFE_MARKS = ("sqlstate", "sqlite_errorname")

ExceptionInfo = (
    tuple[type[BaseException], BaseException, TracebackType | None] | tuple[None, None, None]
)


class OneLineFormatter(logging.Formatter):
    """A formatter under which nobody can forge a line of the log, or read an entry in it.

    Whatever no keyboard sends is written visibly, line breaks above all. Of an exception the log
    has where it came from and its kind, never its words: a database names the value it refused.
    """

    def formatMessage(self, record: logging.LogRecord) -> str:  # noqa: N802 (logging's own name)
        """Return the message in one line."""
        return "".join(map(_visible, super().formatMessage(record)))

    def formatException(self, ei: ExceptionInfo) -> str:  # noqa: N802 (logging's own name)
        """Return where an exception and those behind it came from, the first one first."""
        places = [
            f"{''.join(traceback.format_tb(exception.__traceback__))}{_name(exception)} {_LEFT_OUT}"
            for exception in _chain(ei[1])
        ]
        return "\nwhich led to\n".join(reversed(places))


def write_log() -> None:
    """Write the log to the standard error stream, its times with the offset from UTC."""
    handler = logging.StreamHandler()
    handler.setFormatter(OneLineFormatter(_FORMAT, datefmt="%Y-%m-%dT%H:%M:%S%z"))
    logging.basicConfig(handlers=[handler], level=logging.INFO)
    # Short queues are the normal state of forty tablets on eight threads.
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)
    logging.getLogger("alembic").setLevel(logging.WARNING)


def _chain(last: BaseException | None) -> Iterator[BaseException]:
    seen: set[int] = set()
    while last is not None and id(last) not in seen:
        seen.add(id(last))
        yield last
        last = last.__cause__ or (None if last.__suppress_context__ else last.__context__)


def _name(error: BaseException) -> str:
    kind = type(error)
    marks = [str(getattr(error, mark)) for mark in _SAFE_MARKS if getattr(error, mark, None)]
    return " ".join([f"{kind.__module__}.{kind.__qualname__}", *marks])


def _visible(sign: str) -> str:
    if sign.isprintable():
        return sign
    return sign.encode("unicode_escape", "surrogatepass").decode("ascii")
