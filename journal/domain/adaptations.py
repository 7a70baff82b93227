"""What a teacher adapts for one group: nearer, simpler, another way, more practice; and the gate.

An adapted distance goes into every trial of the group from then on, so that what is not comparable
is seen to be so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID


class AdaptationKind(StrEnum):
    """What is adapted: nearer, an easier way, more practice (common practice, no source)."""

    #: Another distance than the class's.
    CLOSER = "closer"
    #: A simpler device.
    SIMPLER = "simpler"
    #: Another way of launching or loading.
    OTHER_WAY = "other_way"
    #: Practice trials before anything counts.
    MORE_PRACTICE = "more_practice"
    #: Back to the class's own conditions.
    BACK = "back"

    @property
    def needs_gate(self) -> bool:
        """Tell whether the teacher looks at the gate again: distance or device change."""
        return self is not AdaptationKind.MORE_PRACTICE


class AdaptedCheck(StrEnum):
    """A line that the teacher ticks before an adaptation of distance or device holds."""

    LANE = "lane"
    #: What comes back from the panel.
    REBOUND = "rebound"
    #: The energy of a launch at the new distance or with the new device.
    ENERGY = "energy"
    #: Heads, feet and hands, where the load falls in another way than before.
    CLEAR_OF_LOAD = "clear_of_load"
    FALLS_ON = "falls_on"
    EYES = "eyes"


_LAUNCHING = (AdaptedCheck.LANE, AdaptedCheck.REBOUND, AdaptedCheck.ENERGY)
_LOADING = (AdaptedCheck.CLEAR_OF_LOAD, AdaptedCheck.FALLS_ON, AdaptedCheck.EYES)


def adapted_checks_of(*, launches: bool) -> tuple[AdaptedCheck, ...]:
    """Return what is looked at again: of a launch, or of a load that ends in a break."""
    return _LAUNCHING if launches else _LOADING


@dataclass(frozen=True, slots=True, kw_only=True)
class AdaptationEntry:
    """What a teacher enters; distance and trials come as they were written."""

    kind: AdaptationKind
    distance: str = ""
    trials: str = ""
    note: str = ""
    #: Lines of the gate that were ticked.
    ticked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Adaptation:
    """An adaptation as kept; it holds until the next one of its sort."""

    id: UUID
    school_id: UUID
    group_id: UUID
    challenge_id: UUID
    kind: AdaptationKind
    #: The group's distance from then on; None but for another distance.
    distance_mm: int | None
    #: Practice trials of the group before a counted one; None but for more practice.
    practice_trials: int | None
    #: What the teacher wrote; "" where nothing.
    note: str
    checks: tuple[AdaptedCheck, ...]
    adapted_at: datetime
    teacher_id: UUID


def find_distance_mm(
    adaptations: Sequence[Adaptation], class_distance_mm: int | None
) -> int | None:
    """Return the distance of a group: its own where one is adapted, else the class's; in mm."""
    for adaptation in sorted(adaptations, key=lambda kept: kept.adapted_at, reverse=True):
        if adaptation.kind is AdaptationKind.CLOSER:
            return adaptation.distance_mm
        if adaptation.kind is AdaptationKind.BACK:
            break
    return class_distance_mm
