"""A lesson block of a class, its conditions, who is there, and the teacher's gate."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID


class GateCheck(StrEnum):
    """A line of the checklist that the teacher ticks before anything is launched or loaded."""

    GOGGLES = "goggles"
    LANE = "lane"
    BEHIND_PANEL = "behind_panel"
    MATERIALS = "materials"
    ALLERGIES = "allergies"
    CLEAR_OF_LOAD = "clear_of_load"
    FALLS_ON = "falls_on"


LAUNCHING_CHECKS = (
    GateCheck.GOGGLES,
    GateCheck.LANE,
    GateCheck.BEHIND_PANEL,
    GateCheck.MATERIALS,
    GateCheck.ALLERGIES,
)
LOADING_CHECKS = (GateCheck.GOGGLES, GateCheck.CLEAR_OF_LOAD, GateCheck.FALLS_ON)


class LaneState(StrEnum):
    """Whether anything may be launched, or loaded, right now."""

    OPEN = "open"
    CLOSED = "closed"
    #: No session runs.
    NONE = "none"


class CloseReason(StrEnum):
    """What closed the lane."""

    TEACHER = "teacher"
    NEAR_MISS = "near_miss"


def checks_of(*, launches: bool) -> tuple[GateCheck, ...]:
    """Return the lines of the checklist: of a launch, or of a load that ends in a break."""
    return LAUNCHING_CHECKS if launches else LOADING_CHECKS


@dataclass(frozen=True, slots=True, kw_only=True)
class Gate:
    """The checklist as ticked: who opened the lane, when, and until when it stayed open."""

    opened_at: datetime
    teacher_id: UUID
    checks: tuple[GateCheck, ...]
    #: None while the lane is open.
    closed_at: datetime | None = None
    closed_by: CloseReason | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionEntry:
    """What a teacher enters to start a session."""

    challenge_id: UUID
    distance_mm: int | None
    lanes: int
    absent_student_ids: tuple[UUID, ...] = ()
    #: None where nobody was asked, as for sessions that came in a table.
    length_min: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    """One lesson block; trials inherit its conditions."""

    id: UUID
    school_id: UUID
    class_id: UUID
    challenge_id: UUID
    number: int
    started_at: datetime
    ended_at: datetime | None
    distance_mm: int | None
    panel: str
    lanes: int
    absent_student_ids: frozenset[UUID] = frozenset()
    length_min: int | None = None
    #: Since when it is paused; None while it goes on.
    paused_at: datetime | None = None
    #: How long its earlier pauses were, together.
    paused_s: int = 0
    #: What we do today, a line each: for the board.
    plan: str = ""
    #: For the teacher alone.
    notes: str = ""
    #: The lane as it was opened last; None before the first time.
    gate: Gate | None = None

    @property
    def lane(self) -> LaneState:
        """Return whether the lane is open: ticked, and not closed since."""
        is_open = self.gate is not None and self.gate.closed_at is None
        return LaneState.OPEN if is_open else LaneState.CLOSED

    @property
    def lane_mark(self) -> str:
        """Return what changes whenever the lane is closed: a checklist ticked before is void."""
        closed_at = None if self.gate is None else self.gate.closed_at
        return "" if closed_at is None else closed_at.isoformat()

    def ran_at(self, moment: datetime) -> bool:
        """Tell whether the session was running then."""
        return self.started_at <= moment and (self.ended_at is None or moment <= self.ended_at)

    @property
    def is_running(self) -> bool:
        """Tell whether the session has not been ended; a paused one still runs."""
        return self.ended_at is None

    @property
    def is_paused(self) -> bool:
        """Tell whether the session waits to be taken up again."""
        return self.is_running and self.paused_at is not None

    @property
    def plan_lines(self) -> tuple[str, ...]:
        """Return what we do today, a line each."""
        return tuple(self.plan.splitlines())
