"""The migration that makes lesson words longer ends the short ones, and nothing else."""

from __future__ import annotations

from datetime import timedelta

import sqlalchemy as sa

from journal.store import classes, migrate
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom

_SIGN_IN = (
    "INSERT INTO sign_ins (id, school_id, token_hash, role, started_at, last_seen_at) "
    "SELECT id, id, 'kept', 'teacher', '2030-03-04', '2030-03-04' FROM schools"
)


def test_a_short_word_ends_and_a_sign_in_stays(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Tablets that are in stay in; the teacher makes the next word."""
    migrate.downgrade(store.engine, "0010")
    with store.open_session(writing=True) as session:
        school_class = classes.get_class(session, classroom.class_id)
        assert classes.add_lesson_word(
            session, school_class, "copper-47", clock() + timedelta(hours=1)
        )
        session.execute(sa.text(_SIGN_IN))
    migrate.upgrade(store.engine)
    with store.open_session(writing=False) as session:
        assert classes.find_word(session, classroom.class_id, clock()) is None
        assert 1 == session.scalar(sa.text("SELECT count(*) FROM sign_ins"))
