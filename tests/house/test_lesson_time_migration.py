"""The migration that gives sessions a length and pauses keeps every session, forward and back."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa

from journal.records.work import open_work
from journal.services.sessions import get_own_session, keep_texts, pause_session
from journal.store import migrate
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom

NEW = {"length_min", "paused_at", "paused_s", "plan", "notes"}


def _read(store: Store) -> list[dict[str, Any]]:
    with store.engine.connect() as connection:
        rows = connection.execute(sa.text("SELECT * FROM sessions ORDER BY number")).mappings()
        return [{name: row[name] for name in row if name not in NEW} for row in rows]


def test_sessions_stay_and_begin_without_a_length(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """What stood in the new columns goes; everything else is the same after going back and on."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        pause_session(work, classroom.session_id)
        keep_texts(work, classroom.session_id, "Look", "Ask Swift")
    before = _read(store)
    migrate.downgrade(store.engine, "0017")
    assert before == _read(store)
    migrate.upgrade(store.engine)
    assert before == _read(store)
    with open_work(store, classroom.teacher, clock=clock) as work:
        again = get_own_session(work, classroom.session_id)[0]
    assert (None, False, 0, "", "") == (
        again.length_min,
        again.is_paused,
        again.paused_s,
        again.plan,
        again.notes,
    )
