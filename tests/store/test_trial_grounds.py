"""What a trial stands on, read in one statement: the same as what is read in several."""

from __future__ import annotations

from collections.abc import Collection
from random import Random
from uuid import UUID, uuid4

import pytest

from journal.domain.part_states import PartState, read_part_states
from journal.domain.parts import PartEvent, PartEventKind
from journal.domain.revisions import Change, MaterialAmount, RevisionEntry
from journal.store import groups, parts, revisions, trial_grounds
from journal.store.engine import Store
from tests.conftest import CountQueries, StandingClock
from tests.factories.classrooms import Classroom

KINDS = tuple(PartEventKind)


def _stands(state: PartState, used: Collection[UUID], group_id: UUID) -> tuple[object, ...]:
    """Return all that a trial asks a part for."""
    return (
        state.part,
        state.name,
        state.condition,
        state.current,
        [revision for revision in state.revisions if revision.id in used],
        any(event.borrower_group_id == group_id for event in state.events),
    )


@pytest.mark.parametrize("seed", range(8))
def test_ground_is_what_the_tables_say(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    count_queries: CountQueries,
    seed: int,
) -> None:
    """Members, one of whom has left, and how the parts stand after some history, in one query."""
    draw = Random(seed)
    used = list(classroom.revisions_for(0, 0))
    with store.open_session(writing=True) as session:
        groups.leave_groups(session, classroom.student_ids[0][2], clock())
        parts_used = trial_grounds.parts_of_revisions(session, used)
        for _ in range(12):
            part = draw.choice(parts_used)
            clock.move(seconds=1)
            if draw.random() < 0.4:
                entry = RevisionEntry(
                    part_id=part.id,
                    parent_id=None,
                    changes=(Change(factor="bands", from_value="2", to_value="3", reason="“low”"),),
                    materials=(MaterialAmount(material="band", amount=1.5),),
                    reason="Más fuerza; 50 %",
                )
                made = revisions.add_revision(
                    session, part, entry, session_id=None, made_at=clock()
                )
                if draw.random() < 0.6:
                    revisions.set_aside(session, draw.choice([made.id, *used]), clock())
                continue
            kind = draw.choice(KINDS)
            borrower = draw.choice(classroom.group_ids) if kind is PartEventKind.BORROWED else None
            event = PartEvent(
                id=uuid4(), part_id=part.id, kind=kind, at=clock(), borrower_group_id=borrower
            )
            parts.add_event(session, part.school_id, event)

    with store.open_session(writing=False) as session:
        group = groups.get_group(session, classroom.group_ids[0])
        part_ids = [part.id for part in parts_used]
        expected = read_part_states(
            classroom.challenge,
            parts_used,
            revisions.revisions_of_parts(session, part_ids),
            parts.events_of_parts(session, part_ids),
        )
        with count_queries() as statements:
            ground = trial_grounds.get_ground(session, group.id, clock(), used)

    assert len(statements) == 1
    assert group == ground.group
    assert sorted(repr(_stands(state, used, group.id)) for state in expected) == sorted(
        repr(_stands(state, used, group.id)) for state in ground.parts
    )


def test_long_history_is_not_read(store: Store, clock: StandingClock, classroom: Classroom) -> None:
    """A bridge that broke in each of forty trials is as quick to log as a new one."""
    used = classroom.revisions_for(0, 0)
    with store.open_session(writing=True) as session:
        part = trial_grounds.parts_of_revisions(session, used[:1])[0]
        for number in range(40):
            clock.move(seconds=1)
            kind = PartEventKind.MENDED if number % 2 else PartEventKind.BROKEN
            event = PartEvent(id=uuid4(), part_id=part.id, kind=kind, at=clock())
            parts.add_event(session, part.school_id, event)
            entry = RevisionEntry(part_id=part.id, parent_id=used[0])
            revisions.add_revision(session, part, entry, session_id=None, made_at=clock())
        ground = trial_grounds.get_ground(session, classroom.group_ids[0], clock(), used)

    states = [state for state in ground.parts if state.part.id == part.id]
    assert [(2, 1)] == [(len(state.revisions), len(state.events)) for state in states]


def test_ground_without_revisions_has_no_parts(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Nothing was asked for, nothing is read; an unknown revision is no part either."""
    with store.open_session(writing=False) as session:
        for asked in ((), (uuid4(),)):
            ground = trial_grounds.get_ground(session, classroom.group_ids[0], clock(), asked)
            assert () == ground.parts
