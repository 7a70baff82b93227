"""Readings of poor results: device, use, or both; and what a teacher found it to be in the end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID


class Reading(StrEnum):
    """What poor results are put down to (device, use or a mix: common practice, no source)."""

    DEVICE = "device"
    USE = "use"
    BOTH = "both"
    NONE = "none"
    CANNOT_TELL = "cannot tell"


#: What a teacher can find it to have been.
FOUND_READINGS = (Reading.DEVICE, Reading.USE, Reading.BOTH, Reading.NONE)


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgedCause:
    """What the journal said of a group, and what it turned out to be."""

    id: UUID
    school_id: UUID
    group_id: UUID
    challenge_id: UUID
    said: Reading
    #: The probability of the reading that was named, in 100; 0 where none was.
    in_100: int
    #: Trials that it rested on.
    trials: int
    turned_out: Reading
    note: str
    judged_at: datetime
    teacher_id: UUID

    @property
    def spoke(self) -> bool:
        """Tell whether the journal named anything."""
        return self.said is not Reading.CANNOT_TELL

    @property
    def was_right(self) -> bool:
        """Tell whether what it named is what it turned out to be."""
        return self.said is self.turned_out


@dataclass(frozen=True, slots=True, kw_only=True)
class TrackRecord:
    """How often the journal was right among the times it spoke."""

    judged: int
    spoke: int
    right: int


def count_right(judged: Sequence[JudgedCause]) -> TrackRecord:
    """Return how often the journal was right."""
    spoke = [cause for cause in judged if cause.spoke]
    return TrackRecord(
        judged=len(judged), spoke=len(spoke), right=sum(cause.was_right for cause in spoke)
    )
