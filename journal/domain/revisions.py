"""A version of one part: what changed, why, what it is made of, what was predicted."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One factor that was changed from one value to another, and the reason."""

    factor: str
    from_value: str
    to_value: str
    unit: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialAmount:
    """How much of a material of the challenge went into a revision."""

    material: str
    amount: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RevisionEntry:
    """What a group enters to make the next revision of a part."""

    part_id: UUID
    parent_id: UUID | None
    changes: tuple[Change, ...] = ()
    materials: tuple[MaterialAmount, ...] = ()
    reason: str = ""
    prediction: str = ""
    maker_ids: tuple[UUID, ...] = ()
    #: Who decided: members' ids, empty where the whole group did.
    decider_ids: tuple[UUID, ...] = ()
    scribe: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Revision:
    """A revision as kept; it is locked from its first trial."""

    id: UUID
    school_id: UUID
    group_id: UUID
    part_id: UUID
    number: int
    parent_id: UUID | None
    made_at: datetime
    session_id: UUID | None
    changes: tuple[Change, ...]
    materials: tuple[MaterialAmount, ...]
    reason: str
    prediction: str
    maker_ids: tuple[UUID, ...]
    decider_ids: tuple[UUID, ...]
    scribe: str = ""
    set_aside_at: datetime | None = None

    @property
    def is_set_aside(self) -> bool:
        """Tell whether the group put this revision away."""
        return self.set_aside_at is not None
