"""Locks on a journal's folder: the system lets them go when their process ends, however it ends.

They are locks on files beside the database and not in it, so a database on a server of its own has
them as well, for the folder that a server works with.
"""

from __future__ import annotations

import fcntl
import os
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from datetime import datetime
from pathlib import Path

from journal.cli.places import USUAL_DATABASE, find_database_file
from journal.cli.sentences import Stop
from journal.domain.settings import Settings

#: Held by every command while it works; held alone while the database is exchanged or reshaped.
IN_USE = "in_use.lock"
#: Held alone by the running server, which writes down who it is.
SERVING = "serving.lock"
_PATIENCE_S = 3.0
_PAUSE_S = 0.1


class Hold:
    """The locks that this command holds on a journal; they can be made to be held alone."""

    def __init__(self, settings: Settings, stack: ExitStack) -> None:
        """Hold nothing yet: `hold_journal` fills it."""
        self._settings = settings
        self._handles = [
            handle
            for path in _lock_files(settings, IN_USE)
            if (handle := _open(path, stack)) is not None
        ]

    def share(self) -> None:
        """Hold the journal beside other commands, but never beside one that holds it alone."""
        self._take(fcntl.LOCK_SH)

    def take_alone(self) -> None:
        """Hold the journal alone, or stop with a sentence when another one keeps using it."""
        self._take(fcntl.LOCK_EX)

    def _take(self, how: int) -> None:
        # Two that ask at once both let go for a moment, so a short wait settles it.
        end = time.monotonic() + _PATIENCE_S
        while not all(_try(handle, how) for handle in self._handles):
            if time.monotonic() > end:
                raise Stop(
                    f"The journal in {self._settings.instance.absolute()} is in use"
                    f"{_who_serves(self._settings)}. Stop it first, then try once more."
                )
            time.sleep(_PAUSE_S)


@contextmanager
def hold_journal(settings: Settings, *, alone: bool = False) -> Iterator[Hold]:
    """Hold a journal while a command works on it, or alone while its files are exchanged."""
    with ExitStack() as stack:
        hold = Hold(settings, stack)
        if alone:
            hold.take_alone()
        else:
            hold.share()
        yield hold


@contextmanager
def hold_server(settings: Settings) -> Iterator[None]:
    """Be the only server of a folder and of an embedded database until the end."""
    with ExitStack() as stack:
        handles = []
        for path in _lock_files(settings, SERVING):
            handle = _open(path, stack)
            if handle is None or not _try(handle, fcntl.LOCK_EX):
                raise Stop(
                    f"A journal is open on the folder {path.parent.absolute()} already"
                    f"{_who_serves(settings)}. Use that one, or stop it first with Ctrl and C in "
                    "its window. For a second journal give it a folder of its own: --instance DIR"
                )
            handles.append(handle)
        note = f"process {os.getpid()}, port {settings.port}, since {datetime.now():%H:%M}"  # noqa: DTZ005 (read by a person at this machine)
        for handle in handles:
            os.truncate(handle, 0)
            os.pwrite(handle, note.encode(), 0)
        yield


def _lock_files(settings: Settings, name: str) -> list[Path]:
    """Return the lock of the folder, and that of an embedded database that lies elsewhere."""
    paths = [settings.instance.resolve() / name]
    database = find_database_file(settings)
    if database is not None:
        database = database.resolve()
        own = name if database.name == USUAL_DATABASE else f"{database.name}.{name}"
        paths.append(database.parent / own)
    # Always in the same order: two that take them crosswise would wait for each other.
    return sorted(set(paths))


def _open(path: Path, stack: ExitStack) -> int | None:
    """Open a lock file; None where there is none and none can be made, as where one may only read.

    Nobody else can hold a lock that is not there.
    """
    try:
        handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
    except OSError:
        if not path.exists():
            return None
        # Shared or alone, a lock needs no more than a file that can be read.
        handle = os.open(path, os.O_RDONLY | os.O_CLOEXEC)
    stack.callback(os.close, handle)
    return handle


def _try(handle: int, how: int) -> bool:
    try:
        fcntl.flock(handle, how | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True


def _who_serves(settings: Settings) -> str:
    """Return what the running server wrote down, in brackets; nothing where none runs."""
    for path in _lock_files(settings, SERVING):
        with ExitStack() as stack:
            handle = _open(path, stack)
            if handle is not None and not _try(handle, fcntl.LOCK_SH):
                note = os.pread(handle, 200, 0).decode(errors="replace").strip()
                return f" (server: {note})" if note else ""
    return ""
