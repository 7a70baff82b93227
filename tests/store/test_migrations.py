"""The migrations on both kinds of database: up, down, twice at once, and what they do to data."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import datetime, timedelta
from pathlib import Path
from uuid import uuid4

import pytest
import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext

from journal.domain.actors import OPERATOR
from journal.records.work import open_work
from journal.store import migrate, sessions
from journal.store.engine import Store
from journal.store.models import Row
from journal.store.sessions import SessionRow
from tests.conftest import StandingClock
from tests.factories.classrooms import make_classroom
from tests.postgresql import Server


@pytest.fixture
def empty(request: pytest.FixtureRequest, database: str, tmp_path: Path) -> Iterator[Store]:
    """Return a store on a database without any table, of which no other test knows."""
    if database == "sqlite":
        url = f"sqlite:///{tmp_path / 'empty.sqlite3'}"
    else:
        server: Server = request.getfixturevalue("postgresql_server")
        url = server.make_database(migrated=False)
    store = Store(url, durable=False)
    yield store
    store.close()


def _unlike(store: Store) -> list[object]:
    with store.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        return list(compare_metadata(context, Row.metadata))


def test_migrations_go_up_and_down(empty: Store) -> None:
    """Up makes what the code expects, down leaves nothing, up again makes it again."""
    migrate.upgrade(empty.engine)
    assert [] == _unlike(empty)
    migrate.downgrade(empty.engine, "base")
    assert ["alembic_version"] == sa.inspect(empty.engine).get_table_names()
    migrate.upgrade(empty.engine)
    assert [] == _unlike(empty)


def test_two_servers_may_start_at_once(empty: Store) -> None:
    """Both bring a new database to the newest shape; one does it, the other finds it done."""
    if empty.is_sqlite:
        pytest.skip("the folder of a SQLite file is held by one server")
    with ThreadPoolExecutor(4) as pool:
        list(pool.map(migrate.upgrade, [empty.engine] * 4))
    assert migrate.newest_revision() == migrate.find_revision(empty.engine)
    assert [] == _unlike(empty)


def test_of_several_running_sessions_the_newest_goes_on(empty: Store, clock: StandingClock) -> None:
    """Each of the others ends when the next one started; what had ended stays as it was."""
    migrate.upgrade(empty.engine)
    with open_work(empty, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock())
    migrate.downgrade(empty.engine, "0012")
    start = clock()
    ended_early = start + timedelta(minutes=5)
    # Only the columns of that day: the table has grown since.
    table = sa.table(
        "sessions", *(sa.column(field.name, field.type) for field in SessionRow.__table__.c)
    )

    def add(number: int, ended_at: datetime | None) -> dict[str, object]:
        return {
            "id": uuid4(),
            "school_id": room.school_id,
            "class_id": room.class_id,
            "challenge_id": room.challenge_id,
            "number": number,
            "started_at": start + timedelta(hours=number),
            "ended_at": ended_at,
            "panel": "",
            "lanes": 1,
        }

    with empty.engine.begin() as connection:
        connection.execute(sa.insert(table), [add(2, None), add(3, ended_early), add(4, None)])
    migrate.upgrade(empty.engine)
    with empty.open_session(writing=False) as session:
        kept = sessions.sessions_of_class(session, room.class_id)
    began = {session_kept.number: session_kept.started_at for session_kept in kept}

    assert [began[2], began[3], ended_early, None] == [
        session_kept.ended_at for session_kept in kept
    ]
