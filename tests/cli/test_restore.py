"""A restore gives every row back, lets nobody in by yesterday's words, or changes nothing."""

import re
import shutil
import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from journal.cli import restore as command
from journal.cli.demo import SIGN_IN_FILE
from journal.domain.settings import default_database_url
from journal.records.work import open_work
from journal.services.lesson_words import make_lesson_word
from journal.services.sign_ins import hash_token
from journal.store import migrate, sign_ins
from journal.store.engine import Store
from tests.cli.backups import (
    PASSWORD,
    make_instance,
    put_teacher,
    read,
    run,
    save,
    teachers,
    write,
    write_true,
)
from tests.factories.classrooms import make_classroom


@pytest.fixture
def instance(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the folder of a journal; its name needs care in an address of a database."""
    folder = tmp_path / "5B #2? 50%25 new" / "instance"
    monkeypatch.setenv("JOURNAL_INSTANCE", str(folder))
    return make_instance(folder)


def _require_unchanged(instance: Path) -> None:
    assert ["reed"] == teachers(instance)
    assert b"not really a picture" == (instance / "files" / "sketch.png").read_bytes()
    left = {path.name for path in instance.iterdir()}
    assert not {name for name in left if name.startswith(("before_restore", ".journal_"))}


def test_a_restore_brings_back_what_was_saved(instance: Path, tmp_path: Path) -> None:
    """Rows and files are as on the day of the backup, and the later state is kept aside."""
    saved = save(instance, tmp_path / "saved.zip")
    put_teacher(instance, "sand")
    (instance / "files" / "sketch.png").write_bytes(b"drawn over")
    told = run("restore", str(saved))
    assert 0 == told.exit_code, told.output
    assert ["reed"] == teachers(instance)
    assert b"not really a picture" == (instance / "files" / "sketch.png").read_bytes()
    (aside,) = instance.glob("before_restore_*")
    assert str(aside) in told.output
    assert ["reed", "sand"] == teachers(aside)
    assert b"drawn over" == (aside / "files" / "sketch.png").read_bytes()


def test_two_restores_in_one_second_keep_both_old_states(
    instance: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The second one finds another name for its folder."""
    now = datetime(2030, 3, 4, 9, 0, tzinfo=UTC)
    monkeypatch.setattr(command, "clock_of_the_machine", lambda: now)
    saved = save(instance, tmp_path / "saved.zip")
    for name in ("sand", "tarn"):
        put_teacher(instance, name)
        assert 0 == run("restore", str(saved)).exit_code
    asides = sorted(instance.glob("before_restore_*"))
    assert [["reed", "sand"], ["reed", "tarn"]] == [teachers(aside) for aside in asides]


def test_words_and_sign_ins_of_that_day_open_no_door(instance: Path, tmp_path: Path) -> None:
    """A lesson word and two sign-ins that were in force when the backup was made have ended."""
    store = Store(default_database_url(instance))
    now = datetime.now(UTC)
    with store.open_session(writing=True) as session:
        classroom = make_classroom(session, now)
        for name, actor in (("teacher", classroom.teacher), ("tablet", classroom.tablets[0])):
            sign_ins.add_sign_in(session, hash_token(name), actor, now)
    with open_work(store, classroom.teacher) as work:
        make_lesson_word(work, classroom.class_id)
    store.close()
    saved = save(instance, tmp_path / "saved.zip")
    _, manifest = read(saved)
    assert (1, 2) == (manifest["rows"]["lesson_words"], manifest["rows"]["sign_ins"])
    assert 0 == run("restore", str(saved)).exit_code
    with closing(sqlite3.connect(instance / "journal.sqlite3")) as connection:
        assert [] == connection.execute("SELECT word FROM lesson_words").fetchall()
    store = Store(default_database_url(instance))
    with store.open_session(writing=False) as session:
        assert None is sign_ins.find_sign_in(session, hash_token("teacher"))
        assert None is sign_ins.find_sign_in(session, hash_token("tablet"))
    store.close()


def test_a_log_left_beside_the_old_database_is_not_played_into_the_new_one(
    instance: Path, tmp_path: Path
) -> None:
    """As after a power cut: what SQLite had not yet brought in belongs to the old state."""
    saved = save(instance, tmp_path / "saved.zip")
    with closing(sqlite3.connect(instance / "journal.sqlite3")) as connection:
        connection.execute("UPDATE teachers SET sign_in_name = 'late'")
        connection.commit()
        cut = shutil.copytree(instance, tmp_path / "cut")
    assert (cut / "journal.sqlite3-wal").stat().st_size > 0
    told = run("restore", str(saved), "--instance", str(cut))
    assert 0 == told.exit_code, told.output
    assert ["reed"] == teachers(cut)
    (aside,) = cut.glob("before_restore_*")
    assert ["late"] == teachers(aside)


def test_a_backup_of_an_older_version_is_brought_to_the_newest_shape(
    instance: Path, tmp_path: Path
) -> None:
    """All of its rows are there in today's tables."""
    store = Store(default_database_url(instance))
    migrate.downgrade(store.engine, migrate.known_revisions()[-2])
    store.close()
    saved = save(instance, tmp_path / "saved.zip")
    assert 0 == run("restore", str(saved)).exit_code
    assert ["reed"] == teachers(instance)
    store = Store(default_database_url(instance))
    assert migrate.newest_revision() == migrate.find_revision(store.engine)
    store.close()


def test_a_new_machine_takes_a_backup_when_told(instance: Path, tmp_path: Path) -> None:
    """Where there is no journal yet, --new says that this is meant."""
    saved = save(instance, tmp_path / "saved.zip")
    fresh = tmp_path / "fresh"
    told = run("restore", str(saved), "--instance", str(fresh))
    assert (2, False) == (told.exit_code, fresh.exists())
    assert 0 == run("restore", str(saved), "--new", "--instance", str(fresh)).exit_code
    assert ["reed"] == teachers(fresh)
    assert not list(fresh.glob("before_restore_*"))


def test_a_damaged_journal_can_be_restored_over(instance: Path, tmp_path: Path) -> None:
    """That is the day on which a backup is wanted; the damaged files are kept as they were."""
    saved = save(instance, tmp_path / "saved.zip")
    (instance / "journal.sqlite3").write_bytes(b"spilt tea" * 1000)
    assert 0 == run("restore", str(saved)).exit_code
    assert ["reed"] == teachers(instance)
    (aside,) = instance.glob("before_restore_*")
    assert (aside / "journal.sqlite3").read_bytes().startswith(b"spilt tea")


def test_a_demo_sign_in_that_no_longer_fits_is_not_shown(instance: Path, tmp_path: Path) -> None:
    """The file is deleted only where its password opens nothing in the restored journal."""
    saved = save(instance, tmp_path / "saved.zip")
    (instance / SIGN_IN_FILE).write_text(f"name reed\npassword {PASSWORD.replace(' ', '-')}\n")
    told = run("restore", str(saved))
    assert (0, True) == (told.exit_code, SIGN_IN_FILE in told.output)
    assert not (instance / SIGN_IN_FILE).exists()


def test_a_small_file_that_grows_is_refused_until_allowed(instance: Path, tmp_path: Path) -> None:
    """Its size is compared before anything of it is written, and the sentence says how to allow."""
    content, _ = read(save(instance, tmp_path / "saved.zip"))
    large = write_true(tmp_path / "large.zip", {**content, "files/film": bytes(2_500_000)})
    assert large.stat().st_size < 200_000
    told = run("restore", str(large), "--largest-mb", "1")
    assert 2 == told.exit_code
    (allowed,) = re.findall(r"--largest-mb (\d+)", told.output)
    _require_unchanged(instance)
    assert 0 == run("restore", str(large), "--largest-mb", allowed).exit_code
    assert 2_500_000 == (instance / "files" / "film").stat().st_size


@pytest.mark.parametrize("slip", ["hash", "rows", "name", "list", "outside", "shape", "no zip"])
def test_a_backup_that_is_unlike_its_list_changes_nothing(
    instance: Path, tmp_path: Path, slip: str
) -> None:
    """A damaged or foreign file is refused with one sentence and the journal stays as it is."""
    content, manifest = read(save(instance, tmp_path / "saved.zip"))
    if slip == "hash":
        content["files/sketch.png"] = b"something else"
    elif slip == "rows":
        manifest["rows"]["teachers"] = 7
    elif slip == "name":
        content["files/more.png"] = b"not in the list"
    elif slip == "outside":
        content["files/../../outside.txt"] = b""
        manifest["hashes"]["files/../../outside.txt"] = "0"
    elif slip == "shape":
        manifest["shape"] = "9999"
    spoiled = write(tmp_path / "spoiled.zip", content, [] if slip == "list" else manifest)
    if slip == "no zip":
        spoiled.write_bytes(b"PK")
    told = run("restore", str(spoiled))
    assert 2 == told.exit_code, told.output
    assert told.output.startswith("Error: ")
    assert told.output.endswith("Nothing was changed.\n")
    _require_unchanged(instance)
    assert not (tmp_path / "outside.txt").exists()
