"""The teacher's page of a group: gathered once, in few statements."""

from __future__ import annotations

from journal.records.work import open_work
from journal.screens.desk.findings import prepare_findings
from journal.services.ladders import start_climb
from journal.services.visits import log_near_miss, log_visit
from journal.store.engine import Store
from tests.conftest import CountQueries, StandingClock
from tests.factories.classrooms import Classroom
from tests.services.trial_entries import entry_of, log


def test_the_page_takes_at_most_fifteen_statements(
    store: Store, clock: StandingClock, classroom: Classroom, count_queries: CountQueries
) -> None:
    """However much there is to show: trials, a question on the ladder, visits, a near-miss."""
    for _ in range(3):
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock, amount=4.0))
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        start_climb(work, classroom.group_ids[0])
    with open_work(store, classroom.teacher, clock=clock) as work:
        log_visit(work, classroom.group_ids[0])
        log_near_miss(work, classroom.group_ids[0])
    with (
        open_work(store, classroom.teacher, writing=False, clock=clock) as work,
        count_queries() as counted,
    ):
        prepare_findings(work, classroom.group_ids[0])
    assert len(counted) <= 15
