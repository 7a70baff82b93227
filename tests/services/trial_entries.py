"""Entries that are taken, for tests to spoil in one place."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from uuid import UUID, uuid4

from journal.domain.actors import OPERATOR, Actor
from journal.domain.trials import Trial, TrialEntry, TrialKind
from journal.records.work import open_work
from journal.services.trials import log_trial
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom


def entry_of(room: Classroom, clock: StandingClock, **changes: Any) -> TrialEntry:
    """Return an entry that is taken: the first student of the first group, 10 mm off the aim."""
    plain = TrialEntry(
        revision_ids=room.revisions_for(0, 0),
        kind=TrialKind.PRACTICE,
        logged_at=clock(),
        student_id=room.student_ids[0][0],
        x_mm=10.0,
        y_mm=-5.0,
    )
    return replace(plain, **changes)


def log(
    store: Store,
    clock: StandingClock,
    actor: Actor,
    entry: TrialEntry,
    trial_id: UUID | None = None,
) -> Trial:
    """Log one entry in a unit of work of its own."""
    with open_work(store, actor, clock=clock) as work:
        return log_trial(work, trial_id or uuid4(), entry).trial


def bridge_entry(room: Classroom, clock: StandingClock, **changes: Any) -> TrialEntry:
    """Return an entry of a loaded bridge."""
    plain = entry_of(room, clock, x_mm=None, y_mm=None, value=340.0)
    return replace(plain, **changes)


def make_bridge_room(store: Store, clock: StandingClock) -> Classroom:
    """Make a classroom that loads paper bridges: one shared part, destroyed by its test."""
    with open_work(store, OPERATOR, clock=clock) as work:
        return make_classroom(work.session, clock(), challenge_key="paper_bridge")
