"""A teacher's own wording of a rung, for one class."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from journal.domain.ladders import Rung


@dataclass(frozen=True, slots=True, kw_only=True)
class LadderText:
    """The question that a rung puts in one class, in place of the journal's first one."""

    class_id: UUID
    rung: Rung
    text: str
    set_at: datetime
