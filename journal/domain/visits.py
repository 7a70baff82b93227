"""The teacher was at a group; and near-misses, which come before everything else."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """A visit with an optional note."""

    id: UUID
    group_id: UUID
    visited_at: datetime
    reason: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NearMiss:
    """Something that nearly went badly: when, and a note; nobody's name."""

    id: UUID
    group_id: UUID
    noted_at: datetime
    note: str
    looked_at: datetime | None = None
