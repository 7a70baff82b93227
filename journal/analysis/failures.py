"""Call an analysis so that an error in it becomes "cannot say".

In: the question's name, how it is answered, and the value that says "cannot say". Out: the answer,
or that value. Whatever an analysis raises, the other questions are still answered, and so are those
of every other group. A failure is a fault of the journal: it is logged as an error with the places
in the code, never with the message of the exception, which may quote what a child typed.
"""

from __future__ import annotations

import logging
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from threading import Lock
from traceback import extract_tb
from typing import TypeVar

Answer = TypeVar("Answer")

LOG = logging.getLogger("journal.analysis")

_seen: Counter[tuple[str, str, str]] = Counter()
_lock = Lock()


def work_out(question: str, answer: Callable[[], Answer], instead: Answer) -> Answer:
    """Return `answer()`, or `instead` where it raises; the error is logged under `question`."""
    try:
        return answer()
    except Exception as error:  # noqa: BLE001 - a page shows the rest whatever fails; it is logged
        note_failure(question, error)
        return instead


@dataclass(slots=True)
class Questions:
    """Questions put to one group's trials; it keeps the names of those that failed."""

    failed: list[str] = field(default_factory=list)

    def ask(self, question: str, answer: Callable[[], Answer], instead: Answer) -> Answer:
        """Return the answer, or `instead` with the question among the failed ones."""

        def fail() -> Answer:
            try:
                return answer()
            except Exception:
                if question not in self.failed:
                    self.failed.append(question)
                raise

        return work_out(question, fail, instead)


def note_failure(question: str, error: Exception) -> None:
    """Log a failed `question` in full at its first `error`, then its count; returns None.

    The count is logged at 10, 100, 1000 and so on. A page asks again every few seconds; the same
    place failing is one fault.
    """
    frames = extract_tb(error.__traceback__)
    places = [f"{frame.filename}:{frame.lineno} in {frame.name}" for frame in frames]
    kind = type(error).__name__
    with _lock:
        _seen[question, kind, places[-1]] += 1
        count = _seen[question, kind, places[-1]]
    if count == 1:
        trace = "\n  ".join(places)
        LOG.error("Working out %s failed with %s:\n  %s", question, kind, trace)
    elif str(count).rstrip("0") == "1":
        LOG.error("Working out %s has failed %d times with %s", question, count, kind)
