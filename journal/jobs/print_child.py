"""What runs in a child: one order comes in, one file and the word that it is there go out.

Run by `jobs/children.py`, never by hand. It ends when its standard input does: then the server that
wanted the print is gone.
"""

from __future__ import annotations

import errno
import json
import os
import resource
import threading
from pathlib import Path
from typing import Any
from uuid import UUID

from journal.analysis.failures import note_failure
from journal.content.messages import word_message
from journal.domain.actors import Actor, Role
from journal.domain.errors import JournalError, NotKept
from journal.domain.messages import Message, Words
from journal.jobs.children import TOO_LARGE
from journal.jobs.portfolios import print_portfolio
from journal.jobs.prints import write_print
from journal.portfolio.gathering import gather_portfolio
from journal.printing import rendering  # noqa: F401 - loaded before memory is limited
from journal.records.work import open_work
from journal.store import classes
from journal.store.engine import Store

DISK_FULL = Message("prints.disk_is_full")
OUT_OF_REACH = Message("prints.database_could_not_be_read_at_that_moment")
AT_FAULT = Message("prints.fault_of_the_journal_stands_in_the_way")
_GATHERED_PERCENT, _PRINTED_PERCENT = 30, 95
_MB = 1_000_000


def main() -> None:
    """Carry out one order; the last line written says what came of it."""
    # Whatever a library prints belongs into the log, not between the lines of the answer.
    out = os.dup(1)
    os.dup2(2, 1)
    order = _read_order()
    threading.Thread(target=_end_with_the_server, daemon=True).start()
    most_bytes = int(order["memory_mb"]) * _MB
    resource.setrlimit(resource.RLIMIT_AS, (most_bytes, most_bytes))
    _say(out, _carry_out(order, out))


def _carry_out(order: dict[str, Any], out: int) -> dict[str, Any]:
    try:
        return {"class_version": _print(order, out)}
    except Exception as error:  # noqa: BLE001 - the log has it, the person a sentence
        return {"problem": word_message(_tell(error))}


def _tell(error: Exception) -> Words:
    """Return what stands in the way, for a teacher; a fault of the journal is logged."""
    if isinstance(error, MemoryError):
        return TOO_LARGE
    if isinstance(error, NotKept):
        return OUT_OF_REACH
    if isinstance(error, JournalError):
        return error.message
    if isinstance(error, OSError) and error.errno in {errno.ENOSPC, errno.EDQUOT}:
        return DISK_FULL
    note_failure("a portfolio", error)
    if isinstance(error, OSError):
        return Message("prints.its_file_cannot_be_written", reason=(error.strerror or "").lower())
    return AT_FAULT


def _print(order: dict[str, Any], out: int) -> int:
    """Print what is logged at this moment; return the class's version of the same moment."""
    actor = Actor(
        role=Role.TEACHER,
        school_id=UUID(order["school_id"]),
        teacher_id=UUID(order["teacher_id"]),
    )
    store = Store(order["database_url"])
    with open_work(store, actor, writing=False) as work:
        page = gather_portfolio(work, UUID(order["group_id"]), UUID(order["challenge_id"]))
        version = classes.find_version(work.session, UUID(order["class_id"])) or 0
    store.close()
    _say(out, {"percent": _GATHERED_PERCENT})
    content = print_portfolio(page)
    _say(out, {"percent": _PRINTED_PERCENT})
    write_print(Path(order["part"]), content)
    return version


def _read_order() -> dict[str, Any]:
    read = b""
    while not read.endswith(b"\n"):
        more = os.read(0, 1 << 16)
        if not more:
            # The server is gone before it said what it wants.
            os._exit(1)
        read += more
    order: dict[str, Any] = json.loads(read)
    return order


def _end_with_the_server() -> None:
    while os.read(0, 1):
        pass
    os._exit(1)


def _say(out: int, said: dict[str, Any]) -> None:
    os.write(out, json.dumps(said).encode() + b"\n")


if __name__ == "__main__":
    main()
