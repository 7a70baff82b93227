"""All that a group has logged for its challenge, gathered in a fixed number of queries.

Comes in: a class or a bench. Goes out: one GroupRecord a group, plain values through and through,
from which overview, findings, journal and portfolio are made without another query.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from uuid import UUID

from journal.domain.benches import Bench
from journal.domain.classes import SchoolClass
from journal.domain.group_records import GroupRecord
from journal.domain.part_states import PartState, read_part_states
from journal.domain.permits import require_may_teach
from journal.domain.trials import Trial
from journal.records.benches import get_present_challenge
from journal.records.work import Work
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
