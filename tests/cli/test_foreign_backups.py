"""A database that is no journal never takes the place of one, whatever its list says."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from journal.domain.settings import default_database_url
from journal.store import sign_ins
from journal.store.engine import Store
from tests.cli.backups import make_instance, rework, run, save, teachers, write_true
from tests.factories.classrooms import make_classroom
from tests.factories.logged_trials import keep_trial

FOREIGN = {
    "no tables of ours": ("DROP TABLE trial_revisions", "other tables"),
    "another column": ("ALTER TABLE schools ADD COLUMN motto TEXT", "other columns"),
    "an unknown shape": ("UPDATE alembic_version SET version_num = 'abcd'", "not one of a journal"),
    "a newer shape": ("UPDATE alembic_version SET version_num = '9876'", "newer version"),
    "no shape": ("DELETE FROM alembic_version", "not one of a journal"),
    "a rule broken": ("UPDATE sign_ins SET role = 'king'", "breaks a rule"),
    "a trigger": ("CREATE TRIGGER x AFTER INSERT ON trials BEGIN SELECT 1; END", "other tables"),
    "no moment": ("UPDATE sign_ins SET started_at = 'noon'", "holds what no journal does"),
    "no id": ("UPDATE schools SET id = 'here' WHERE rowid = 1", "point to rows that are not there"),
    "a list for an object": ("UPDATE challenges SET document = '[1]'", "a document that is none"),
    "no such tick": ("UPDATE gates SET checks = '[\"luck\"]'", "hold what no journal does"),
    "no challenge": ("UPDATE challenges SET document = '{}'", "hold what no journal does"),
    "no such zone": ("UPDATE trials SET zone = 'moon'", 'has the zone "moon"'),
    "other points": ("UPDATE trials SET value = 7.25", "has 7.25 points"),
    "half a place": ("UPDATE trials SET x_mm = NULL", "half of a place"),
    "a far place": ("UPDATE trials SET y_mm = 1e9", "a place off the wall"),
    "no such misfire": (
        "UPDATE trials SET state = 'misfire', misfire = 'cursed', value = NULL",
        'has the misfire "cursed"',
    ),
    "a negative amount": ("UPDATE trials SET amount = -2", "has an amount of -2"),
    "no such handling": ('UPDATE trials SET handling = \'{"hat": "on"}\'', "a handling that"),
    "no such choice": ('UPDATE trials SET handling = \'{"pull": "no"}\'', "a handling that"),
    "a distance below 0": ("UPDATE trials SET distance_mm = -1", "a distance of -1 mm"),
    "session -3": ("UPDATE sessions SET number = -3", "a session has the number -3"),
    "no lane": ("UPDATE sessions SET lanes = 0", "has 0 lanes"),
    "a session behind": ("UPDATE sessions SET distance_mm = -5", "a distance of -5 mm"),
    "group 0": ("UPDATE groups SET number = 0 WHERE number = 1", "a group has the number 0"),
    "revision 0": ("UPDATE revisions SET number = 0", "has the number 0"),
    "no such material": (
        'UPDATE revisions SET materials = \'[{"material": "gold", "amount": 1}]\'',
        'has the material "gold"',
    ),
    "lost rows": ("DELETE FROM schools", "point to rows that are not there"),
}


@pytest.fixture
def instance(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the folder of a journal with one teacher and one file."""
    folder = tmp_path / "instance"
    monkeypatch.setenv("JOURNAL_INSTANCE", str(folder))
    return make_instance(folder)


@pytest.mark.parametrize("what", FOREIGN)
def test_a_database_that_is_no_journal_changes_nothing(
    instance: Path, tmp_path: Path, what: str
) -> None:
    """Also where list, sums and counts fit: each is said, before anything is replaced."""
    statement, reason = FOREIGN[what]
    store = Store(default_database_url(instance))
    with store.open_session(writing=True) as session:
        classroom = make_classroom(session, datetime.now(UTC))
        sign_ins.add_sign_in(session, "0" * 64, classroom.teacher, datetime.now(UTC))
        keep_trial(session, classroom, classroom.shared_revision_ids[0], datetime.now(UTC))
    store.close()
    before = teachers(instance)

    def change(connection: sqlite3.Connection) -> None:
        connection.execute("PRAGMA ignore_check_constraints=ON")
        connection.execute(statement)

    foreign = rework(save(instance, tmp_path / "a.zip"), tmp_path / "b.zip", change)
    told = run("restore", str(foreign))
    assert (2, True) == (told.exit_code, reason in told.output), told.output
    assert told.output.endswith("Nothing was changed.\n")
    assert before == teachers(instance)
    assert not list(instance.glob("before_restore_*"))


def test_a_foreign_database_alone_changes_nothing(instance: Path, tmp_path: Path) -> None:
    """One table and a list that fits are not a journal."""
    path = tmp_path / "recipes.sqlite3"
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE recipes (name TEXT)")
        connection.execute("INSERT INTO recipes VALUES ('soup')")
        connection.commit()
    foreign = write_true(tmp_path / "foreign.zip", {"journal.sqlite3": path.read_bytes()})
    for file in (foreign, path):
        told = run("restore", str(file))
        assert 2 == told.exit_code, told.output
        assert ["reed"] == teachers(instance)
        assert not list(instance.glob("before_restore_*"))
