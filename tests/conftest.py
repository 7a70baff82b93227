"""What every test may ask for: a database made by the migrations, a clock, a classroom."""

from __future__ import annotations

import logging
import shutil
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
import sqlalchemy as sa

from journal.analysis.failures import LOG
from journal.domain.actors import OPERATOR
from journal.domain.messages import Message
from journal.records.work import open_work
from journal.store import migrate
from journal.store.engine import Store
from tests.factories.classrooms import Classroom, make_classroom
from tests.postgresql import Server, running_server

#: Tests of these folders run on SQLite and on PostgreSQL, with --full those of FULL_FOLDERS too.
BOTH_FOLDERS = ("store", "races")
FULL_FOLDERS = ("findings", "portfolio", "screens", "services", "web")
DATABASES = ("sqlite", "postgresql")

CountQueries = Callable[[], AbstractContextManager[list[str]]]


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the option that asks for PostgreSQL wherever it can make a difference."""
    meaning = f"run the tests of {', '.join(FULL_FOLDERS)} on PostgreSQL as well"
    parser.addoption("--full", action="store_true", help=meaning)


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Run a test that asks for a database on both kinds, where its folder is named for it."""
    folders = BOTH_FOLDERS + (FULL_FOLDERS if metafunc.config.getoption("full") else ())
    room = metafunc.definition.path.relative_to(Path(__file__).parent).parts[0]
    if room in folders and "database" in metafunc.fixturenames:
        metafunc.parametrize("database", DATABASES, indirect=True)


@pytest.fixture(autouse=True)
def no_message_is_shown_unworded(monkeypatch: pytest.MonkeyPatch) -> None:
    """Fail where a message becomes text, on a page or in a sentence, before `content/` words it."""

    def refuse(message: Message) -> str:
        told = f"{message!r} is shown without being worded"
        raise AssertionError(told)

    monkeypatch.setattr(Message, "__str__", refuse)


class StandingClock:
    """A clock that moves only when a test moves it."""

    def __init__(self) -> None:
        """Start on a school morning."""
        self.time = datetime(2030, 3, 4, 9, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        """Return the present instant, a millisecond after the last one that was asked for."""
        self.time += timedelta(milliseconds=1)
        return self.time

    def move(self, **delta: float) -> None:
        """Let time pass: `clock.move(minutes=5)`."""
        self.time += timedelta(**delta)


@pytest.fixture(autouse=True)
def _analyses_answer(request: pytest.FixtureRequest) -> Iterator[None]:
    """Let no analysis fail unseen: a page shows the rest, so a test would pass without this."""
    heard: list[str] = []
    ear = logging.Handler(logging.ERROR)
    ear.emit = lambda record: heard.append(record.getMessage())  # type: ignore[method-assign]
    LOG.addHandler(ear)
    yield
    LOG.removeHandler(ear)
    if request.node.get_closest_marker("failures") is None:
        assert [] == heard


@pytest.fixture
def clock() -> StandingClock:
    """Return a clock in the test's hand."""
    return StandingClock()


@pytest.fixture(scope="session")
def migrated_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return an empty database file at the newest migration; it is copied, never used."""
    path = tmp_path_factory.mktemp("database") / "migrated.sqlite3"
    store = Store(f"sqlite:///{path}", durable=False)
    migrate.upgrade(store.engine)
    store.close()
    return path


@pytest.fixture(scope="session")
def postgresql_server() -> Iterator[Server]:
    """Return a PostgreSQL server for all tests of this run."""
    with running_server() as server:
        yield server


@pytest.fixture
def database(request: pytest.FixtureRequest) -> str:
    """Return the kind of database that the test runs on."""
    return str(getattr(request, "param", "sqlite"))


@pytest.fixture
def database_url(request: pytest.FixtureRequest, database: str, tmp_path: Path) -> str:
    """Return the address of an empty database of the test's own at the newest migration."""
    if database == "sqlite":
        path = tmp_path / "journal.sqlite3"
        shutil.copyfile(request.getfixturevalue("migrated_file"), path)
        return f"sqlite:///{path}"
    server: Server = request.getfixturevalue("postgresql_server")
    return server.empty_database()


@pytest.fixture
def store(database_url: str) -> Iterator[Store]:
    """Return a fresh store of the test's own."""
    store = Store(database_url, durable=False)
    yield store
    store.close()


@pytest.fixture
def classroom(store: Store, clock: StandingClock) -> Classroom:
    """Return a class of two groups in the middle of a launching session, gate open."""
    with open_work(store, OPERATOR, clock=clock) as work:
        return make_classroom(work.session, clock())


@pytest.fixture
def count_queries(store: Store) -> CountQueries:
    """Return a context that lists every statement sent to the store's database.

    `with count_queries() as statements: ...`; beginning and ending a transaction is not counted.
    """

    @contextmanager
    def count() -> Iterator[list[str]]:
        statements: list[str] = []

        def note(*args: object) -> None:
            statement = str(args[2])
            # On PostgreSQL a writing transaction begins by waiting for its turn.
            if not statement.startswith(("BEGIN", "COMMIT", "ROLLBACK", "SELECT set_config(")):
                statements.append(statement)

        sa.event.listen(store.engine, "before_cursor_execute", note)
        try:
            yield statements
        finally:
            sa.event.remove(store.engine, "before_cursor_execute", note)

    return count
