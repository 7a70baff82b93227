"""All that a group has logged for its challenge, gathered in a fixed number of queries.

Comes in: a class or a context. Goes out: one GroupRecord a group, plain values through and through,
from which overview, findings, journal and portfolio are made without another query.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from uuid import UUID

from journal.domain.classes import SchoolClass
from journal.domain.group_contexts import GroupContext
from journal.domain.group_records import GroupRecord
from journal.domain.part_states import PartState, read_part_states
from journal.domain.permits import require_may_teach
from journal.domain.trials import Trial
from journal.records.group_contexts import get_present_challenge
from journal.records.work import Work
from journal.store import (
    adaptations,
    groups,
    guest_tests,
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
    contexts = [
        GroupContext(
            group=group, school_class=school_class, challenge=challenge, sessions=of_challenge
        )
        for group in groups.groups_of_class(work.session, school_class.id)
    ]
    return _gather(work, contexts) if contexts else ()


def gather_group(work: Work, context: GroupContext) -> GroupRecord:
    """Return the record of one group; the context has asked the permit."""
    adapted = adaptations.adaptations_of_groups(
        work.session, [context.group.id], context.challenge_id
    )
    return replace(_gather(work, [context])[0], adaptations=adapted)


def _gather(work: Work, contexts: Sequence[GroupContext]) -> tuple[GroupRecord, ...]:
    session, first = work.session, contexts[0]
    ids = [context.group.id for context in contexts]
    logged = trials.trials_of_groups(session, ids, first.session_ids)
    states = _states(work, first, ids, logged)
    steps = stages.steps_of_groups(session, ids, first.challenge_id)
    climbs = ladders.climbs_of_groups(session, ids, first.challenge_id)
    visited = visits.visits_of_groups(session, ids)
    missed = visits.near_misses_of_groups(session, ids)
    invited = guest_tests.guest_tests_of_groups(session, ids, first.challenge_id)
    swapped = swap_tests.swap_tests_of_groups(session, ids, first.challenge_id)
    return tuple(
        GroupRecord(
            context=context,
            parts=tuple(state for state in states if state.part.group_id == context.group.id),
            trials=tuple(trial for trial in logged if trial.group_id == context.group.id),
            steps=steps[context.group.id],
            climbs=tuple(climb for climb in climbs if climb.group_id == context.group.id),
            visits=tuple(visit for visit in visited if visit.group_id == context.group.id),
            near_misses=tuple(miss for miss in missed if miss.group_id == context.group.id),
            foreign_parts=tuple(
                state for state in states if state.part.group_id != context.group.id
            ),
            guest_tests=tuple(test for test in invited if test.group_id == context.group.id),
            swap_tests=tuple(test for test in swapped if test.group_id == context.group.id),
        )
        for context in contexts
    )


def _states(
    work: Work, context: GroupContext, group_ids: Sequence[UUID], logged: Sequence[Trial]
) -> tuple[PartState, ...]:
    """Return the parts of the groups, and with them those of others that they used."""
    used = {revision_id for trial in logged for revision_id in trial.revision_ids}
    made = revisions.revisions_of_groups(work.session, group_ids, context.challenge_id)
    borrowed = used - {revision.id for revision in made}
    foreign = revisions.revisions_by_id(work.session, borrowed) if borrowed else ()
    found = parts.parts_by_id_or_group(
        work.session, {revision.part_id for revision in foreign}, group_ids, context.challenge_id
    )
    events = parts.events_of_parts(work.session, [part.id for part in found])
    return read_part_states(context.challenge, found, (*made, *foreign), events, used)
