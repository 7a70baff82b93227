"""What tests of kept glances do: look at a class, and change something of it."""

from __future__ import annotations

from collections.abc import Callable

from journal.domain.trials import Trial
from journal.records.work import Work, open_work
from journal.screens.desk.group_glances import GroupGlance, KeptGlances, glance_at_class
from journal.store import classes
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.trial_entries import entry_of, log


def look(work: Work, room: Classroom, kept: KeptGlances) -> tuple[GroupGlance, ...]:
    """Return the glances at a class, those that were kept and those made anew."""
    return glance_at_class(work, classes.get_class(work.session, room.class_id), kept)


def look_as_teacher(
    store: Store, clock: StandingClock, room: Classroom, kept: KeptGlances | None = None
) -> tuple[GroupGlance, ...]:
    """Return the glances in a work of their own; with nothing kept where nothing is given."""
    with open_work(store, room.teacher, writing=False, clock=clock) as work:
        return look(work, room, KeptGlances() if kept is None else kept)


def log_some(store: Store, clock: StandingClock, room: Classroom) -> Trial:
    """Log three trials of the first group and return the last."""
    clock.move(minutes=1)
    logged = [
        log(store, clock, room.tablets[0], entry_of(room, clock, amount=4.0, x_mm=60.0 * number))
        for number in range(3)
    ]
    return logged[-1]


Change = Callable[[Store, StandingClock, Classroom, Trial], None]


def as_teacher(change: Callable[[Work, Classroom, Trial], object]) -> Change:
    """Return a change that the teacher makes in a work of its own."""

    def make(store: Store, clock: StandingClock, room: Classroom, last: Trial) -> None:
        with open_work(store, room.teacher, clock=clock) as work:
            change(work, room, last)

    return make


def on_tablet(change: Callable[[Work, Classroom, Trial], object]) -> Change:
    """Return a change that the first group's tablet makes."""

    def make(store: Store, clock: StandingClock, room: Classroom, last: Trial) -> None:
        with open_work(store, room.tablets[0], clock=clock) as work:
            change(work, room, last)

    return make
