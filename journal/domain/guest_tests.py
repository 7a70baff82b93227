"""A guest test: others launch this group's device, or the group launches another group's.

In: who takes part and what was launched. Out: whose turn is next, and who is told apart by number.
Its launches are kept apart from trials: they are compared with, and never count for anybody.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID

from journal.domain.trials import Ending, TrialState

#: Two guests: one may have a habit of their own.
GUESTS = 2
#: Turns of each guest, and of the group with another group's device in all.
TURNS_EACH = 4
TURNS = GUESTS * TURNS_EACH


class GuestKind(StrEnum):
    """What is compared."""

    #: Two of another group, or the teacher, launch this group's device.
    GUESTS = "guests"
    #: This group launches another group's device.
    THEIR_DEVICE = "their_device"


@dataclass(frozen=True, slots=True, kw_only=True)
class GuestTestEntry:
    """What is chosen for a guest test."""

    kind: GuestKind
    #: Empty with guests: the teacher launches.
    student_ids: tuple[UUID, ...] = ()
    #: Whose device is launched.
    owner_group_id: UUID | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class GuestTrialEntry(Ending):
    """What is entered for one launch."""

    logged_at: datetime
    amount: float | None = None
    #: The revision of an own part that was used; None for the guest's own.
    own_revision_id: UUID | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class GuestTrial(Ending):
    """One launch of a guest test."""

    id: UUID
    school_id: UUID
    guest_test_id: UUID
    session_id: UUID
    #: The turn, from 1.
    position: int
    #: None for the teacher.
    student_id: UUID | None
    state: TrialState
    amount: float | None
    own_revision_id: UUID | None
    distance_mm: int | None
    logged_at: datetime
    received_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class GuestTest:
    """A guest test as planned and as far as it got."""

    id: UUID
    school_id: UUID
    #: Whose question it is.
    group_id: UUID
    challenge_id: UUID
    kind: GuestKind
    #: The device that is launched.
    revision_id: UUID
    #: The group that lends guests or device; None where the teacher launches.
    asked_group_id: UUID | None
    #: Who launches, turn by turn; None for the teacher.
    turns: tuple[UUID | None, ...]
    asked_at: datetime
    #: Whether the other group agreed; None while it has not answered.
    agreed: bool | None = None
    ended_at: datetime | None = None
    trials: tuple[GuestTrial, ...] = ()

    @property
    def usable_trials(self) -> tuple[GuestTrial, ...]:
        """Return the launches that were not taken back."""
        return tuple(trial for trial in self.trials if trial.state.is_usable)

    @property
    def next_position(self) -> int | None:
        """Return the first turn, from 1, that is not taken; None where it is through."""
        taken = {trial.position for trial in self.usable_trials}
        return next((at for at in range(1, len(self.turns) + 1) if at not in taken), None)

    @property
    def is_over(self) -> bool:
        """Tell whether it is through, was ended before, or was not agreed to."""
        return self.ended_at is not None or self.agreed is False or self.next_position is None

    @property
    def is_running(self) -> bool:
        """Tell whether launches can be logged."""
        return self.agreed is True and not self.is_over

    @property
    def is_waiting(self) -> bool:
        """Tell whether the other group has still to answer."""
        return self.agreed is None and self.ended_at is None

    def number_of(self, student_id: UUID | None) -> int:
        """Return the number of a guest, from 1, in order of the first turns."""
        return list(dict.fromkeys(self.turns)).index(student_id) + 1


def plan_turns(launchers: tuple[UUID | None, ...]) -> tuple[UUID | None, ...]:
    """Return who launches turn by turn: each in turn, `TURNS` in all."""
    return tuple(launchers[at % len(launchers)] for at in range(TURNS))
