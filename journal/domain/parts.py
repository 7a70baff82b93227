"""A thing the group makes that can be exchanged, and what happens to it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID


class PartEventKind(StrEnum):
    """Something that happened to a part."""

    LOST = "lost"
    BROKEN = "broken"
    MENDED = "mended"
    BORROWED = "borrowed"

    @property
    def stops_trials(self) -> bool:
        """Tell whether the part cannot be tested until it is mended."""
        return self in {PartEventKind.LOST, PartEventKind.BROKEN}


@dataclass(frozen=True, slots=True, kw_only=True)
class PartEvent:
    """One event of one part, with who entered it."""

    id: UUID
    part_id: UUID
    kind: PartEventKind
    at: datetime
    student_id: UUID | None = None
    #: BORROWED: the group that borrows the part.
    borrower_group_id: UUID | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A shared part of a group (owner None) or a student's own."""

    id: UUID
    school_id: UUID
    group_id: UUID
    challenge_id: UUID
    #: The key of the part in the challenge, such as "launcher" or "dart".
    key: str
    owner_id: UUID | None
    owner_nickname: str = ""

    @property
    def is_own(self) -> bool:
        """Tell whether the part is a student's own."""
        return self.owner_id is not None
