"""All that a class's groups have logged but their trials, with a mark of these.

Comes in: a class. Goes out: an outline a group, in as many queries for 2 groups as for 12. Where
two outlines of a group are equal, so is everything that its record says; `complete` adds the trials
of those groups whose record is wanted.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field, replace
from uuid import UUID

from journal.domain.classes import SchoolClass
from journal.domain.group_contexts import GroupContext
from journal.domain.group_records import GroupRecord
from journal.domain.ladders import Climb
from journal.domain.part_states import read_part_states
from journal.domain.parts import Part, PartEvent
from journal.domain.permits import require_may_teach
from journal.domain.revisions import Revision
from journal.domain.stages import Step
from journal.domain.swap_tests import SwapTest
from journal.domain.visits import NearMiss, Visit
from journal.records.group_contexts import get_present_challenge
from journal.records.work import Work
from journal.store import (
    groups,
    ladders,
    parts,
    revisions,
    stages,
    swap_tests,
    trial_marks,
    trials,
    visits,
)


@dataclass(frozen=True, kw_only=True)
class ClassOutline:
    """What the groups of a class share: parts are borrowed, so each may use those of all."""

    parts: tuple[Part, ...]
    revisions: tuple[Revision, ...]
    events: tuple[PartEvent, ...]


@dataclass(frozen=True, kw_only=True)
class GroupOutline:
    """One group's record without its trials."""

    #: Another one as soon as a trial came or was put right.
    trial_mark: str
    #: In a class without its version, which counts the changes of all groups.
    context: GroupContext
    #: Of every group, by whose names a borrowed part is called.
    parts: tuple[Part, ...]
    #: Of the group itself.
    revisions: tuple[Revision, ...]
    events: tuple[PartEvent, ...]
    steps: tuple[Step, ...]
    climbs: tuple[Climb, ...]
    visits: tuple[Visit, ...]
    near_misses: tuple[NearMiss, ...]
    swap_tests: tuple[SwapTest, ...]
    of_class: ClassOutline = field(compare=False, repr=False)

    @property
    def group_id(self) -> UUID:
        """Return the id of the group."""
        return self.context.group.id


def outline_class(work: Work, school_class: SchoolClass) -> tuple[GroupOutline, ...]:
    """Return the outline of each group of the class."""
    require_may_teach(work.actor, school_class)
    session = work.session
    challenge, of_challenge = get_present_challenge(work, school_class)
    contexts = [
        GroupContext(
            group=group,
            school_class=replace(school_class, version=0),
            challenge=challenge,
            sessions=of_challenge,
        )
        for group in groups.groups_of_class(session, school_class.id)
    ]
    if not contexts:
        return ()
    first, ids = contexts[0], [context.group.id for context in contexts]
    marks = trial_marks.mark_trials_of_groups(
        session, school_class.school_id, ids, first.session_ids
    )
    made = revisions.revisions_of_groups(session, ids, first.challenge_id)
    listed = parts.parts_of_groups(session, ids, first.challenge_id)
    group_of_part = {part.id: part.group_id for part in listed}
    events = parts.events_of_parts(session, list(group_of_part))
    steps = stages.steps_of_groups(session, ids, first.challenge_id)
    climbs = ladders.climbs_of_groups(session, ids, first.challenge_id)
    visited = visits.visits_of_groups(session, ids)
    missed = visits.near_misses_of_groups(session, ids)
    swapped = swap_tests.swap_tests_of_groups(session, ids, first.challenge_id)
    of_class = ClassOutline(parts=listed, revisions=made, events=events)
    return tuple(
        GroupOutline(
            trial_mark=marks[group_id],
            context=context,
            parts=listed,
            revisions=tuple(revision for revision in made if revision.group_id == group_id),
            events=tuple(event for event in events if group_of_part[event.part_id] == group_id),
            steps=steps[group_id],
            climbs=tuple(climb for climb in climbs if climb.group_id == group_id),
            visits=tuple(visit for visit in visited if visit.group_id == group_id),
            near_misses=tuple(miss for miss in missed if miss.group_id == group_id),
            swap_tests=tuple(test for test in swapped if test.group_id == group_id),
            of_class=of_class,
        )
        for group_id, context in zip(ids, contexts, strict=True)
    )


def complete(work: Work, outlines: Collection[GroupOutline]) -> tuple[GroupRecord, ...]:
    """Return the records of some groups of one class, in two queries more, five at most."""
    if not outlines:
        return ()
    first = next(iter(outlines))
    context, of_class = first.context, first.of_class
    logged = trials.trials_of_groups(
        work.session, [outline.group_id for outline in outlines], context.session_ids
    )
    used = {revision_id for trial in logged for revision_id in trial.revision_ids}
    listed, made, events = of_class.parts, of_class.revisions, of_class.events
    elsewhere = used - {revision.id for revision in made}
    if elsewhere:
        # A tablet cannot name a part of another class; a table taken over from elsewhere might.
        others = revisions.revisions_by_id(work.session, elsewhere)
        part_ids = {revision.part_id for revision in others}
        made += others
        listed += parts.parts_by_id_or_group(work.session, part_ids, (), context.challenge_id)
        events += parts.events_of_parts(work.session, list(part_ids))
    states = read_part_states(context.challenge, listed, made, events, used)
    return tuple(
        GroupRecord(
            context=outline.context,
            parts=tuple(state for state in states if state.part.group_id == outline.group_id),
            trials=tuple(trial for trial in logged if trial.group_id == outline.group_id),
            steps=outline.steps,
            climbs=outline.climbs,
            visits=outline.visits,
            near_misses=outline.near_misses,
            foreign_parts=tuple(
                state for state in states if state.part.group_id != outline.group_id
            ),
            swap_tests=outline.swap_tests,
        )
        for outline in outlines
    )
