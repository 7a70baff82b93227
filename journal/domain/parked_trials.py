"""A parked trial: an entry that came late and fits no session, kept until the teacher places it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID

from journal.domain.errors import Refused
from journal.domain.messages import Words
from journal.domain.trials import TrialEntry

MOST_REASON_LETTERS = 300


class ParkReason(StrEnum):
    """Why an entry that waited on its tablet could not be filed."""

    #: No session ran when it was made.
    NO_SESSION = "no_session"
    #: A session ran, but the teacher had not opened launching, or loading, in it yet.
    BEFORE_GATE = "before_gate"


class Misplaced(Refused):
    """An entry waited on its tablet, and there is no place for it: it is parked."""

    def __init__(self, message: Words, why: ParkReason) -> None:
        super().__init__(message)
        self.why = why


class ParkState(StrEnum):
    """What became of a parked entry."""

    WAITING = "waiting"
    PLACED = "placed"
    DISCARDED = "discarded"


@dataclass(frozen=True, slots=True, kw_only=True)
class ParkedTrial:
    """The entry as it was sent, and what the teacher decided."""

    id: UUID
    school_id: UUID
    group_id: UUID
    entry: TrialEntry
    why: ParkReason
    #: When it was made, by our clock, and how much the tablet's was behind.
    made_at: datetime
    clock_slow_s: int
    received_at: datetime
    decided_at: datetime | None = None
    teacher_id: UUID | None = None
    #: Where it was placed; None for one that waits or was discarded.
    session_id: UUID | None = None
    #: Why it was discarded.
    reason: str = ""

    @property
    def state(self) -> ParkState:
        """Return what became of it."""
        if self.decided_at is None:
            return ParkState.WAITING
        return ParkState.DISCARDED if self.session_id is None else ParkState.PLACED
