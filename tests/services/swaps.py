"""Swap tests for tests: a second launcher, a plan, and all its turns logged."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any
from uuid import UUID

from journal.domain.actors import OPERATOR
from journal.domain.group_records import GroupRecord
from journal.domain.revisions import Change, RevisionEntry
from journal.domain.swap_tests import SwapKind, SwapTest, SwapTurn
from journal.domain.trials import Place, Trial
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.services.swap_tests import SwapEntry, plan_swap_test
from journal.store import parts, revisions, swap_tests
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.trial_entries import entry_of, log

#: Zones that a test may ask for, and what they bring.
ZONES = {"blaze": 8.0, "bark": 4.0, "trunk": 2.0}


def add_launcher(store: Store, clock: StandingClock, room: Classroom, group: int = 0) -> UUID:
    """Build the group's launcher 2 from launcher 1 and return its id."""
    old_id = room.shared_revision_ids[group]
    with open_work(store, OPERATOR, clock=clock) as work:
        old = revisions.get_revision(work.session, old_id)
        part = parts.get_part(work.session, old.part_id)
        change = Change(factor="bands", from_value="1", to_value="2", unit="bands")
        entry = RevisionEntry(part_id=part.id, parent_id=old_id, changes=(change,))
        return revisions.add_revision(
            work.session, part, entry, session_id=room.session_id, made_at=clock()
        ).id


def plan(
    store: Store, clock: StandingClock, room: Classroom, new_id: UUID, **changes: Any
) -> SwapTest:
    """Plan launcher 1 against launcher 2, as the first group's tablet."""
    entry = SwapEntry(
        **{
            "kind": SwapKind.REVISIONS,
            "old_revision_id": room.shared_revision_ids[0],
            "new_revision_id": new_id,
            **changes,
        }
    )
    with open_work(store, room.tablets[0], clock=clock) as work:
        return plan_swap_test(work, room.group_ids[0], entry)


def log_turn(
    store: Store, clock: StandingClock, room: Classroom, turn: SwapTurn, zone: str | None
) -> Trial:
    """Log a turn of the first group: in a zone, or (None) as a misfire."""
    clock.move(seconds=45)
    ending = {"misfire": "stuck"} if zone is None else {"place": Place.PANEL, "zone": zone}
    return log(store, clock, room.tablets[0], entry_of(
        room, clock, x_mm=None, y_mm=None, student_id=turn.student_id,
        revision_ids=revisions_of_turn(room, turn), **ending,
    ))  # fmt: skip


def revisions_of_turn(room: Classroom, turn: SwapTurn) -> tuple[UUID, ...]:
    """Return what a turn of the first group is done with."""
    own = room.own_revision_ids[0]
    if turn.revision_id in own:
        return (room.shared_revision_ids[0], turn.revision_id)
    return (turn.revision_id, own[room.student_ids[0].index(turn.student_id)])


def log_all(
    store: Store,
    clock: StandingClock,
    room: Classroom,
    swap_test: SwapTest,
    zone_of: Callable[[SwapTurn], str | None],
) -> None:
    """Log every turn in order."""
    for turn in swap_test.turns:
        log_turn(store, clock, room, turn, zone_of(turn))


def kept(store: Store, swap_test: SwapTest) -> SwapTest:
    """Return the swap test as it stands."""
    with open_work(store, OPERATOR, writing=False) as work:
        return swap_tests.get_swap_test(work.session, swap_test.id)


def record_of(store: Store, room: Classroom) -> GroupRecord:
    """Return the record of the first group."""
    with open_work(store, room.teacher, writing=False) as work:
        return gather_group(work, get_group_context(work, room.group_ids[0]))
