"""The database server goes away and comes back; the journal goes on without a new start."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path
from uuid import uuid4

import pytest
from flask.testing import FlaskClient

from journal.app import create_app
from journal.domain.actors import OPERATOR
from journal.domain.settings import settings_from
from journal.records.work import open_work
from journal.services.sign_ins import hash_token
from journal.store import sign_ins
from journal.store.engine import Store
from journal.web.request_work import SIGN_IN_COOKIE
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.postgresql import Server

PROMPT_S = 7


@pytest.fixture
def away_store(safe_server: Server) -> Iterator[Store]:
    """Return a store on the server that may be killed."""
    store = Store(safe_server.make_database())
    yield store
    store.close()


@pytest.fixture
def room(away_store: Store, clock: StandingClock) -> Classroom:
    """Return a classroom on that server."""
    with open_work(away_store, OPERATOR, clock=clock) as work:
        return make_classroom(work.session, clock())


@pytest.fixture
def tablet(away_store: Store, room: Classroom, clock: StandingClock, tmp_path: Path) -> FlaskClient:
    """Return a tablet that is in."""
    app = create_app(settings_from({"JOURNAL_INSTANCE": str(tmp_path)}), away_store, clock)
    app.config.update(WTF_CSRF_ENABLED=False)
    with away_store.open_session(writing=True) as session:
        sign_ins.add_sign_in(session, hash_token("tablet"), room.tablets[0], clock())
    browser = app.test_client()
    browser.set_cookie(SIGN_IN_COOKIE, "tablet")
    return browser


def _ask(tablet: FlaskClient, room: Classroom, clock: StandingClock) -> list[int]:
    """Load the group's journal, log a trial, ask for health; return the statuses."""
    body = {
        "revision_ids": [str(one) for one in room.revisions_for(0, 0)],
        "student_id": str(room.student_ids[0][0]),
        "kind": "practice",
        "logged_at": clock().isoformat(),
        "x_mm": 10.0,
        "y_mm": -5.0,
    }
    answers = [
        tablet.get(f"/groups/{room.group_ids[0]}/journal"),
        tablet.put(f"/api/trials/{uuid4()}", json=body),
        tablet.get("/healthz"),
    ]
    return [answer.status_code for answer in answers]


def test_a_server_that_is_away_is_503_until_it_is_back(
    safe_server: Server,
    tablet: FlaskClient,
    room: Classroom,
    clock: StandingClock,
    caplog: pytest.LogCaptureFixture,
) -> None:
    """Pages and entries say so promptly, in one line of the log; afterwards all is as before."""
    assert [200, 201, 200] == _ask(tablet, room, clock)
    safe_server.kill()
    try:
        started = time.monotonic()
        assert [503, 503, 503] == _ask(tablet, room, clock)
        assert time.monotonic() - started < PROMPT_S
        assert 1 == len([record for record in caplog.records if record.levelname == "ERROR"])
        assert not [record for record in caplog.records if record.exc_info]
    finally:
        safe_server.start()
    assert [200, 201, 200] == _ask(tablet, room, clock)
