"""What the log says when nothing can be kept: one line a minute, however many tablets try."""

from __future__ import annotations

import logging
import threading
import time

from journal.domain.errors import NotKept

EVERY_S = 60.0
_logger = logging.getLogger("journal.storage")


class StorageLog:
    """When each kind of failure was last written down, and how often it was not since then."""

    def __init__(self) -> None:
        self._last: dict[type[NotKept], float] = {}
        self._unsaid: dict[type[NotKept], int] = {}
        self._turn = threading.Lock()

    def note(self, error: NotKept) -> None:
        """Write one line, unless one of the same kind was written within the last minute."""
        kind, now = type(error), time.monotonic()
        with self._turn:
            if now - self._last.get(kind, -EVERY_S) < EVERY_S:
                self._unsaid[kind] = self._unsaid.get(kind, 0) + 1
                return
            self._last[kind] = now
            unsaid = self._unsaid.pop(kind, 0)
        more = f" ({unsaid} more since the last line)" if unsaid else ""
        _logger.error("The database did not answer as it should: %s%s", _reason(error), more)


def _reason(error: NotKept) -> str:
    """Return the first line of what the driver said: no statement, nothing that was entered."""
    cause = error.__cause__
    reason = str(getattr(cause, "orig", None) or cause or error)
    return reason.strip().splitlines()[0] if reason.strip() else type(error).__name__
