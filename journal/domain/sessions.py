"""A lesson block of a class, its conditions, who is there, and the teacher's gate."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID


class GateCheck(StrEnum):
    """A line of the checklist that the teacher ticks before anything is launched."""

    GOGGLES = "goggles"
    LANE = "lane"
    BEHIND_PANEL = "behind_panel"
    MATERIALS = "materials"
    ALLERGIES = "allergies"


@dataclass(frozen=True, slots=True, kw_only=True)
class Gate:
    """The checklist as ticked: who opened launching, and when."""

    opened_at: datetime
    teacher_id: UUID
    checks: tuple[GateCheck, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionEntry:
    """What a teacher enters to start a session."""

    challenge_id: UUID
    distance_mm: int | None
    lanes: int
    absent_student_ids: tuple[UUID, ...] = ()


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
    gate: Gate | None = None

    @property
    def is_running(self) -> bool:
        """Tell whether the session has not been ended."""
        return self.ended_at is None
