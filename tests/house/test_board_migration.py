"""The migration that lets boards in keeps every sign-in; taken back, it takes boards along."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa

from journal.domain.actors import TabletState
from journal.records.work import open_work
from journal.services.boards import put_up_board
from journal.services.lesson_words import make_lesson_word
from journal.services.tablets import come_in
from journal.store import migrate
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom


def _read(store: Store) -> list[dict[str, Any]]:
    with store.engine.connect() as connection:
        rows = connection.execute(sa.text("SELECT * FROM sign_ins ORDER BY started_at")).mappings()
        return [dict(row) for row in rows]


def test_tablets_stay_in_and_boards_go(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A tablet is in before and after; unknown roles are refused in each shape."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        word = make_lesson_word(work, classroom.class_id)
        _, state = come_in(work, word, classroom.group_ids[0], classroom.student_ids[0][0])
        put_up_board(work, classroom.class_id)
    assert TabletState.IN is state
    tablet, board = _read(store)
    assert ("tablet", "board") == (tablet["role"], board["role"])
    migrate.downgrade(store.engine, "0019")
    assert [tablet] == _read(store)
    _refuses(store, "board")
    migrate.upgrade(store.engine)
    assert [tablet] == _read(store)
    _refuses(store, "visitor")


def _refuses(store: Store, role: str) -> None:
    try:
        with store.engine.begin() as connection:
            connection.execute(sa.text("UPDATE sign_ins SET role = :role"), {"role": role})
    except sa.exc.IntegrityError:
        return
    raise AssertionError(f"{role} was taken.")
