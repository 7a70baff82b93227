"""The tables of the code and those of the migrations are the same, up and down."""

from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from journal.store import migrate
from journal.store.engine import Store
from journal.store.models import Row
from tests.factories.classrooms import Classroom

MIGRATIONS = Path(migrate.__file__).parent / "migrations"
VERSIONS = sorted(path.name.split("_")[0] for path in (MIGRATIONS / "versions").glob("[0-9]*.py"))


@pytest.fixture
def empty(tmp_path: Path) -> Store:
    """Return a store on a database without any table."""
    return Store(f"sqlite:///{tmp_path / 'empty.sqlite3'}", durable=False)


def _tables(store: Store) -> set[str]:
    return set(sa.inspect(store.engine).get_table_names()) - {"alembic_version"}


def _rows(store: Store) -> dict[str, int]:
    with store.open_session(writing=False) as session:
        return {
            name: session.execute(sa.select(sa.func.count()).select_from(table)).scalar_one()
            for name, table in Row.metadata.tables.items()
        }


def test_migrations_make_what_the_code_expects(store: Store) -> None:
    """Alembic finds no difference between the migrated database and the tables of the code."""
    with store.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert [] == compare_metadata(context, Row.metadata)


def test_migrations_carry_the_constraints_of_the_code(store: Store) -> None:
    """Checks and unique rules have the same names in the database as in the code."""
    found = sa.inspect(store.engine)
    for name, table in Row.metadata.tables.items():
        kept = {one["name"] for one in found.get_check_constraints(name)}
        kept |= {one["name"] for one in found.get_unique_constraints(name)}
        wanted = {
            str(constraint.name)
            for constraint in table.constraints
            if isinstance(constraint, sa.CheckConstraint | sa.UniqueConstraint)
        }
        assert wanted == kept, name


def test_numbers_follow_each_other_in_one_line() -> None:
    """Two branches that add a migration collide in git, not in a running journal."""
    config = migrate._config(None)
    line = [one.revision for one in ScriptDirectory.from_config(config).walk_revisions()]
    assert VERSIONS == line[::-1]
    assert [f"{number:04}" for number in range(1, len(VERSIONS) + 1)] == VERSIONS


@pytest.mark.parametrize("version", VERSIONS)
def test_each_migration_can_be_taken_back(empty: Store, version: str) -> None:
    """Up, down and up again gives the same tables."""
    migrate.upgrade(empty.engine, version)
    there = _tables(empty)
    before = _before(version)
    migrate.downgrade(empty.engine, before)
    assert before == (migrate.find_revision(empty.engine) or "base")
    migrate.upgrade(empty.engine, version)
    assert there == _tables(empty)
    empty.close()


def test_taking_all_back_leaves_nothing(empty: Store) -> None:
    """An upgraded database taken back to its beginning has no table of ours."""
    migrate.upgrade(empty.engine)
    migrate.downgrade(empty.engine, "base")
    assert set() == _tables(empty)
    empty.close()


def test_upgrading_again_changes_nothing(store: Store, classroom: Classroom) -> None:
    """A start on a database in use keeps every row."""
    kept = _rows(store)
    assert kept["groups"] == len(classroom.group_ids)
    migrate.upgrade(store.engine)
    assert kept == _rows(store)
    assert VERSIONS[-1] == migrate.find_revision(store.engine)


def _before(version: str) -> str:
    at = VERSIONS.index(version)
    return VERSIONS[at - 1] if at else "base"
