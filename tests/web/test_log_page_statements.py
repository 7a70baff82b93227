"""The page that logs trials reads each thing once."""

from __future__ import annotations

from flask.testing import FlaskClient

from journal.store.engine import Store
from tests.conftest import CountQueries, StandingClock
from tests.factories.classrooms import Classroom
from tests.services.trial_entries import entry_of, log


def test_page_takes_few_statements_however_much_was_logged(
    store: Store,
    clock: StandingClock,
    tablet: FlaskClient,
    classroom: Classroom,
    count_queries: CountQueries,
) -> None:
    """All is gathered once: as many statements after twenty trials as after one."""
    counted = []
    for trials_more in (1, 19):
        for _ in range(trials_more):
            log(store, clock, classroom.tablets[0], entry_of(classroom, clock))
        with count_queries() as statements:
            assert tablet.get(f"/groups/{classroom.group_ids[0]}/trials/new").status_code == 200
        counted.append(len(statements))

    assert counted[0] == counted[1]
    assert counted[1] <= 12, "\n".join(statements)
