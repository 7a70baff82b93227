"""All that a group has logged for its challenge, as one value."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from uuid import UUID

from journal.domain.adaptations import Adaptation, find_distance_mm
from journal.domain.group_contexts import GroupContext
from journal.domain.groups import Group
from journal.domain.guest_tests import GuestTest
from journal.domain.ladders import Climb
from journal.domain.part_states import PartState
from journal.domain.readable_trials import read_trial
from journal.domain.revisions import Revision
from journal.domain.stages import Step
from journal.domain.swap_tests import SwapTest
from journal.domain.trials import Trial
from journal.domain.visits import NearMiss, Visit


@dataclass(frozen=True, kw_only=True)
class GroupRecord:
    """One group's record.

    What is derived is worked out once, when it is first read: a page asks for `usable_trials` some
    hundred times. It is no part of the value: two equal records stay equal, and `replace` makes one
    that works everything out anew.
    """

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
    #: Oldest first, with their launches: compared with, never counted.
    guest_tests: tuple[GuestTest, ...] = ()
    #: Oldest first; gathered for one group alone, an overview shows none.
    adaptations: tuple[Adaptation, ...] = ()

    @cached_property
    def group(self) -> Group:
        """Return the group."""
        return self.context.group

    @property
    def language(self) -> str:
        """Return the language of the group's class."""
        return self.context.school_class.language

    @cached_property
    def usable_trials(self) -> tuple[Trial, ...]:
        """Return the trials that enter findings: measured ones and misfires."""
        return tuple(read_trial(trial) for trial in self.trials if trial.state.is_usable)

    @cached_property
    def trial_numbers(self) -> Mapping[UUID, int]:
        """Return the number of each trial, from 1: struck and void ones keep theirs.

        Every page and sheet takes numbers from here, so that a trial has one everywhere.
        """
        return MappingProxyType(
            {trial.id: number for number, trial in enumerate(self.trials, start=1)}
        )

    @cached_property
    def main_part(self) -> PartState | None:
        """Return the part whose revisions stand first: the shared one, else the first own one."""
        return self.parts[0] if self.parts else None

    @cached_property
    def nicknames(self) -> Mapping[UUID, str]:
        """Return the nickname of everybody who ever was in the group."""
        return MappingProxyType(
            {member.student_id: member.nickname for member in self.group.members}
        )

    @cached_property
    def distance_mm(self) -> int | None:
        """Return the group's distance now, in the session that runs; None where there is none."""
        running = self.context.running
        usual_mm = None if running is None else running.distance_mm
        return None if usual_mm is None else find_distance_mm(self.adaptations, usual_mm)

    def find_revision(self, revision_id: UUID) -> tuple[PartState, Revision] | None:
        """Return a revision that was used here, with its part."""
        return self._revisions_by_id.get(revision_id)

    def trials_of(self, revision_id: UUID) -> tuple[Trial, ...]:
        """Return the trials that a revision was used in and that enter findings."""
        return self._trials_by_revision.get(revision_id, ())

    @cached_property
    def _revisions_by_id(self) -> Mapping[UUID, tuple[PartState, Revision]]:
        return {
            revision.id: (state, revision)
            # The group's own parts come last, so that theirs stands where an id is in both.
            for state in (*self.foreign_parts, *self.parts)
            for revision in state.revisions
        }

    @cached_property
    def _trials_by_revision(self) -> Mapping[UUID, tuple[Trial, ...]]:
        by_revision: dict[UUID, list[Trial]] = {}
        for trial in self.usable_trials:
            for revision_id in dict.fromkeys(trial.revision_ids):
                by_revision.setdefault(revision_id, []).append(trial)
        return {revision_id: tuple(trials) for revision_id, trials in by_revision.items()}
