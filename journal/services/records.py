"""All that a group has logged for its challenge, gathered in a fixed number of queries.

Comes in: a class or a bench. Goes out: one GroupRecord a group, plain values through and through,
from which overview, findings, journal and portfolio are made without another query.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from uuid import UUID

from journal.domain.adaptations import Adaptation, find_distance_mm
from journal.domain.classes import SchoolClass
from journal.domain.groups import Group
from journal.domain.ladders import Climb
from journal.domain.part_states import PartState, read_part_states
from journal.domain.permits import require_may_teach
from journal.domain.readable_trials import read_trial
from journal.domain.revisions import Revision
from journal.domain.stages import Step
from journal.domain.swap_tests import SwapTest
from journal.domain.trials import Trial
from journal.domain.visits import NearMiss, Visit
from journal.services.benches import Bench, get_present_challenge
from journal.services.work import Work
from journal.store import (
    adaptations,
    groups,
    ladders,
    parts,
    revisions,
    stages,
    swap_tests,
    trials,
    visits,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupRecord:
    """One group's record."""

    bench: Bench
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
        return self.bench.group

    @property
    def told_trials(self) -> tuple[Trial, ...]:
        """Return the trials that enter findings: measured ones and misfires."""
        return tuple(read_trial(one) for one in self.trials if one.state.tells_something)

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
        running = self.bench.running
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
        return tuple(trial for trial in self.told_trials if revision_id in trial.revision_ids)


def gather_class(work: Work, school_class: SchoolClass) -> tuple[GroupRecord, ...]:
    """Return a record for each group of the class, in as many queries for 2 groups as for 12."""
    require_may_teach(work.actor, school_class)
    challenge, of_challenge = get_present_challenge(work, school_class)
    benches = [
        Bench(group=group, school_class=school_class, challenge=challenge, sessions=of_challenge)
        for group in groups.groups_of_class(work.session, school_class.id)
    ]
    return _gather(work, benches) if benches else ()


def gather_group(work: Work, bench: Bench) -> GroupRecord:
    """Return the record of one group; the bench has asked the permit."""
    adapted = adaptations.adaptations_of_groups(
        work.session, [bench.group.id], bench.challenge_id
    )
    return replace(_gather(work, [bench])[0], adaptations=adapted)


def _gather(work: Work, benches: Sequence[Bench]) -> tuple[GroupRecord, ...]:
    session, first = work.session, benches[0]
    ids = [bench.group.id for bench in benches]
    logged = trials.trials_of_groups(session, ids, first.session_ids)
    states = _states(work, first, ids, logged)
    steps = stages.steps_of_groups(session, ids, first.challenge_id)
    climbs = ladders.climbs_of_groups(session, ids, first.challenge_id)
    visited = visits.visits_of_groups(session, ids)
    missed = visits.near_misses_of_groups(session, ids)
    swapped = swap_tests.swap_tests_of_groups(session, ids, first.challenge_id)
    return tuple(
        GroupRecord(
            bench=bench,
            parts=tuple(one for one in states if one.part.group_id == bench.group.id),
            trials=tuple(one for one in logged if one.group_id == bench.group.id),
            steps=steps[bench.group.id],
            climbs=tuple(one for one in climbs if one.group_id == bench.group.id),
            visits=tuple(one for one in visited if one.group_id == bench.group.id),
            near_misses=tuple(one for one in missed if one.group_id == bench.group.id),
            foreign_parts=tuple(one for one in states if one.part.group_id != bench.group.id),
            swap_tests=tuple(one for one in swapped if one.group_id == bench.group.id),
        )
        for bench in benches
    )


def _states(
    work: Work, bench: Bench, group_ids: Sequence[UUID], logged: Sequence[Trial]
) -> tuple[PartState, ...]:
    """Return the parts of the groups, and with them those of others that they used."""
    used = {revision_id for trial in logged for revision_id in trial.revision_ids}
    made = revisions.revisions_of_groups(work.session, group_ids, bench.challenge_id)
    foreign = revisions.revisions_by_id(work.session, used - {one.id for one in made})
    found = parts.parts_by_id_or_group(
        work.session, {one.part_id for one in foreign}, group_ids, bench.challenge_id
    )
    events = parts.events_of_parts(work.session, [part.id for part in found])
    return read_part_states(bench.challenge, found, (*made, *foreign), events, used)
