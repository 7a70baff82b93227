"""A table of trials taken over into a classroom, and what is there afterwards."""

from __future__ import annotations

from journal.domain.actors import OPERATOR
from journal.domain.group_records import GroupRecord
from journal.exchange.trials import read_trials
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.services.imports.trials import ImportReport, import_trials
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom


def take_table(
    store: Store, clock: StandingClock, room: Classroom, header: str, *rows: str
) -> ImportReport:
    """Take a table over for the first group, in a unit of work of its own."""
    with open_work(store, OPERATOR, clock=clock) as work:
        name = get_group_context(work, room.group_ids[0]).group.name
        text = "\n".join([header, *(row.replace("{group}", name) for row in rows)])
        trials = read_trials(text)
        return import_trials(work, room.class_id, room.challenge_id, trials, name)


def read_record(store: Store, room: Classroom) -> GroupRecord:
    """Return the record of the first group."""
    with open_work(store, room.teacher, writing=False) as work:
        return gather_group(work, get_group_context(work, room.group_ids[0]))
