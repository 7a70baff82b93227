"""Who came in and who was turned away, for the log: ids of ours, no name and no word entered."""

from __future__ import annotations

import logging
import time
from collections.abc import Callable

from flask import current_app, g, request

from journal.domain.actors import NOBODY, Actor

#: So many lines are written within the time, the rest are only counted: whoever knocks a thousand
#: times a second fills no disk.
MOST_LINES = 120
WITHIN_S = 60.0
EXTENSION = "journal_door_log"

_LOG = logging.getLogger("journal.door")


class DoorLog:
    """Lines of the log, not more than somebody can read."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._since = clock()
        self._written = 0
        self._left_out = 0

    def note(self, what: str, actor: Actor) -> None:
        """Write what happened, and by whom as far as that is known."""
        if self._clock() - self._since > WITHIN_S:
            if self._left_out:
                _LOG.warning("%d lines like these were left out", self._left_out)
            self._since, self._written, self._left_out = self._clock(), 0, 0
        if self._written >= MOST_LINES:
            self._left_out += 1
            return
        self._written += 1
        _LOG.info("%s: %s", what, _describe_role(actor))


def note_at_door(what: str, actor: Actor | None = None) -> None:
    """Note something about whoever is asking, or about whoever has just come in."""
    log: DoorLog = current_app.extensions.setdefault(EXTENSION, DoorLog())
    log.note(what, actor or g.get("actor", NOBODY))


def note_denial(status: int) -> None:
    """Note that somebody was turned away, with the route and never the address as it was sent."""
    rule = request.url_rule.rule if request.url_rule else "no route"
    note_at_door(f"denied {status} {request.method} {rule}")


def _describe_role(actor: Actor) -> str:
    """Return role and ids, by which the school can find out more in the tables."""
    ids = (
        ("teacher", actor.teacher_id),
        ("class", actor.class_id),
        ("group", actor.group_id),
        ("sign-in", actor.sign_in_id),
    )
    words = [f"{name} {id_}" for name, id_ in ids if id_ is not None]
    return ", ".join([actor.role.value, *words])
