"""All that a group has logged for its challenge, as one value."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from journal.domain.adaptations import Adaptation, find_distance_mm
from journal.domain.group_contexts import GroupContext
from journal.domain.groups import Group
from journal.domain.ladders import Climb
from journal.domain.part_states import PartState
from journal.domain.readable_trials import read_trial
from journal.domain.revisions import Revision
from journal.domain.stages import Step
from journal.domain.swap_tests import SwapTest
from journal.domain.trials import Trial
from journal.domain.visits import NearMiss, Visit

FORMER_MEMBER = "former member"


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupRecord:
    """One group's record."""

    context: GroupContext
    parts: tuple[PartState, ...]
    #: Every trial in order of receipt, struck and void ones too.
    trials: tuple[Trial, ...]
    steps: tuple[Step, ...]
    climbs: tuple[Climb, ...]
    visits: tuple[Visit, ...]
    near_misses: tuple[NearMiss, ...]
    #: Parts of other groups that were used here.
    foreign_parts: tuple[PartState, ...] = ()
    #: Oldest first.
    swap_tests: tuple[SwapTest, ...] = ()
    #: Oldest first; gathered for one group alone, an overview shows none.
    adaptations: tuple[Adaptation, ...] = ()

    @property
    def group(self) -> Group:
        """Return the group."""
        return self.context.group

    @property
    def usable_trials(self) -> tuple[Trial, ...]:
        """Return the trials that enter findings: measured ones and misfires."""
        return tuple(read_trial(trial) for trial in self.trials if trial.state.is_usable)

    @property
    def trial_numbers(self) -> dict[UUID, int]:
        """Return the number of each trial, from 1: struck and void ones keep theirs.

        Every page and sheet takes numbers from here, so that a trial has one everywhere.
        """
        return {trial.id: number for number, trial in enumerate(self.trials, start=1)}

    @property
    def main_part(self) -> PartState | None:
        """Return the part whose revisions stand first: the shared one, else the first own one."""
        return self.parts[0] if self.parts else None

    @property
    def nicknames(self) -> dict[UUID, str]:
        """Return the nickname of everybody who ever was in the group."""
        return {member.student_id: member.nickname for member in self.group.members}

    @property
    def distance_mm(self) -> int | None:
        """Return the group's distance now, in the session that runs; None where there is none."""
        running = self.context.running
        usual_mm = None if running is None else running.distance_mm
        return None if usual_mm is None else find_distance_mm(self.adaptations, usual_mm)

    def find_revision(self, revision_id: UUID) -> tuple[PartState, Revision] | None:
        """Return a revision that was used here, with its part."""
        for state in (*self.parts, *self.foreign_parts):
            revision = state.find_revision(revision_id)
            if revision is not None:
                return state, revision
        return None

    def trials_of(self, revision_id: UUID) -> tuple[Trial, ...]:
        """Return the trials that a revision was used in and that enter findings."""
        return tuple(trial for trial in self.usable_trials if revision_id in trial.revision_ids)
