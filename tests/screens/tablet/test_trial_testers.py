"""Who may launch next: a child's count says that it is of today."""

from __future__ import annotations

from journal.domain.actors import OPERATOR
from journal.records.work import open_work
from journal.screens.tablet.trials import prepare_log
from journal.store import sessions
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.trial_entries import entry_of, log


def test_a_childs_count_is_said_to_be_of_today(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Where an earlier session had its trials, "0 trials" would be false."""
    tablet, group_id = classroom.tablets[0], classroom.group_ids[0]
    log(store, clock, tablet, entry_of(classroom, clock))
    with open_work(store, tablet, writing=False, clock=clock) as work:
        counts = [tester.trials for tester in prepare_log(work, group_id).testers]
    assert ["1 today", "0 today", "0 today"] == counts
    with open_work(store, OPERATOR, clock=clock) as work:
        sessions.end_session(work.session, classroom.session_id, clock())
    with open_work(store, tablet, writing=False, clock=clock) as work:
        counts = [tester.trials for tester in prepare_log(work, group_id).testers]
    assert ["", "", ""] == counts
