"""One use of the device by one student, and what came of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from uuid import UUID


class TrialKind(StrEnum):
    """Practice, or one of the attempts that count."""

    PRACTICE = "practice"
    COUNTED = "counted"


class Place(StrEnum):
    """Where it ended, when that is a question."""

    PANEL = "panel"
    WALL = "wall"
    NOWHERE = "nowhere"


class TrialState(StrEnum):
    """What the entry is worth to the analysis."""

    MEASURED = "measured"
    MISFIRE = "misfire"
    #: Set aside by the teacher, with a reason.
    VOID = "void"
    #: Taken back by the child before the next one was logged; kept, never counted.
    STRUCK = "struck"

    @property
    def is_usable(self) -> bool:
        """Tell whether the trial enters findings."""
        return self in {TrialState.MEASURED, TrialState.MISFIRE}


@dataclass(frozen=True, slots=True, kw_only=True)
class Ending:
    """How a trial ended."""

    place: Place | None = None
    x_mm: float | None = None
    y_mm: float | None = None
    #: The zone's key where there is a panel and it was hit; in an entry, where it was named instead
    #: of tapped. None on the panel is bare panel.
    zone: str | None = None
    #: The measure, or points by zone: those are worked out here, never sent. None for a misfire.
    value: float | None = None
    #: The key of its cause.
    misfire: str | None = None

    @property
    def says_where(self) -> bool:
        """Tell whether there is anything about a place."""
        return any(value is not None for value in (self.place, self.x_mm, self.y_mm, self.zone))


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialContent(Ending):
    """What is said of a trial, when it is entered and when it is kept.

    The one list of these fields: `domain/trial_fields.py` hands it to whoever reads or writes them.
    """

    #: One revision of each part that was used.
    revision_ids: tuple[UUID, ...]
    kind: TrialKind
    #: When it was made. In an entry by the tablet's clock, a claim; as kept put right by how far
    #: that clock was off.
    logged_at: datetime
    student_id: UUID | None = None
    scribe_id: UUID | None = None
    handling: Mapping[str, str] = field(default_factory=dict)
    amount: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialEntry(TrialContent):
    """What a tablet sends for one trial."""

    #: What the tablet's clock said at this sending: no part of the content, it differs each time.
    sent_at: datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial(TrialContent):
    """A trial as kept, corrections applied."""

    id: UUID
    school_id: UUID
    group_id: UUID
    session_id: UUID
    state: TrialState
    #: Conditions taken from the session when it was logged.
    distance_mm: int | None
    panel: str
    #: Our clock: gives the order.
    received_at: datetime
    #: How much the tablet's clock was behind ours, in seconds; the claim is `logged_at` less this.
    clock_slow_s: int = 0
    #: Whether the lane was closed when it was made: taken, and marked for the teacher.
    lane_closed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """What was put right in a trial: the old value is kept for good."""

    trial_id: UUID
    field: str
    old: str
    new: str
    reason: str
    corrected_at: datetime
    teacher_id: UUID | None
