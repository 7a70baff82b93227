"""Wrong lesson words and passwords, counted so that guessing gets slow.

A lesson word is counted by the device's own cookie, a password by the sign-in name, never by the
network address: forty tablets of a school share one. The counts live in this process only: a
restart forgets them, and each of several worker processes counts for itself. A device that throws
its cookie away starts anew; against that stand the number of words, their end with the lesson and
the door that knocks.
"""

from __future__ import annotations

import hashlib
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta

from flask import current_app

from journal.domain.errors import Invalid
from journal.domain.guesses import FORGET_AFTER, pause_after, say_pause

EXTENSION = "journal_guesses"
MOST_KEPT = 10_000


class Guesses:
    """How often something wrong was entered in a row, by whom, and when last."""

    def __init__(self) -> None:
        self._wrong: dict[str, tuple[int, datetime]] = {}
        self._turn = threading.Lock()

    @contextmanager
    def counting(self, who: str, field: str, now: datetime) -> Iterator[None]:
        """Count what is tried inside: Invalid is one more wrong entry, anything else forgets them.

        Raises Invalid beside the field, and counts nothing, while a pause lasts.
        """
        self.require_patience(who, field, now)
        try:
            yield
        except Invalid:
            self.note(who, now)
            raise
        self.forget(who)

    def require_patience(self, who: str, field: str, now: datetime) -> None:
        """Raise Invalid beside the field while a pause lasts."""
        with self._turn:
            wrong, last_at = self._wrong.get(_key(who), (0, now))
        left = last_at + pause_after(wrong) - now
        if left > timedelta(0):
            what = f"That did not fit {wrong} times. Wait {say_pause(left)}, then try again."
            raise Invalid.at(field, what)

    def note(self, who: str, now: datetime) -> None:
        """Count one more wrong entry."""
        with self._turn:
            if len(self._wrong) >= MOST_KEPT:
                self._make_room(now)
            wrong, last_at = self._wrong.pop(_key(who), (0, now))
            self._wrong[_key(who)] = (1 if now - last_at > FORGET_AFTER else wrong + 1, now)

    def forget(self, who: str) -> None:
        """Start anew: something right was entered."""
        with self._turn:
            self._wrong.pop(_key(who), None)

    def _make_room(self, now: datetime) -> None:
        # The oldest stand first, because each is put at the end when it is counted.
        kept = [(who, seen) for who, seen in self._wrong.items() if now - seen[1] <= FORGET_AFTER]
        self._wrong = dict(kept[-MOST_KEPT // 2 :])


def current_guesses() -> Guesses:
    """Return the counts of the running application."""
    found: Guesses = current_app.extensions.setdefault(EXTENSION, Guesses())
    return found


def _key(who: str) -> str:
    """Return a short key of fixed length, however long the entered name is."""
    return hashlib.sha256(who.strip().casefold().encode("utf-8", "surrogatepass")).hexdigest()
