"""A backup is taken while others write, and a restore gives every row back or changes nothing."""

import json
import sqlite3
import zipfile
from contextlib import closing
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from journal.cli.instances import get_settings, open_store
from journal.cli.locks import hold_server
from journal.cli.main import main
from journal.domain.actors import OPERATOR
from journal.services.teachers import add_teacher
from journal.services.work import open_work
from journal.store.engine import Store


@pytest.fixture
def instance(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the folder of a journal with one teacher and one file."""
    folder = tmp_path / "instance"
    monkeypatch.setenv("JOURNAL_INSTANCE", str(folder))
    assert 0 == _run("database", "new").exit_code
    _add_teacher(folder, "reed")
    (folder / "files").mkdir()
    (folder / "files" / "sketch.png").write_bytes(b"not really a picture")
    return folder


def _run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


def _add_teacher(instance: Path, name: str) -> None:
    store = Store(f"sqlite:///{instance / 'journal.sqlite3'}")
    with open_work(store, OPERATOR) as work:
        add_teacher(work, name, name.title(), "four words in a row")
    store.close()


def _teachers(instance: Path) -> list[str]:
    with closing(sqlite3.connect(instance / "journal.sqlite3")) as connection:
        found = connection.execute("SELECT sign_in_name FROM teachers ORDER BY 1").fetchall()
    return [name for (name,) in found]


def test_a_restore_brings_back_what_was_saved(instance: Path, tmp_path: Path) -> None:
    """Rows and files are as on the day of the backup, and the later state is kept aside."""
    saved = tmp_path / "saved.zip"
    assert 0 == _run("backup", str(saved)).exit_code
    _add_teacher(instance, "sand")
    (instance / "files" / "sketch.png").write_bytes(b"drawn over")
    told = _run("restore", str(saved))
    assert 0 == told.exit_code, told.output
    assert ["reed"] == _teachers(instance)
    assert b"not really a picture" == (instance / "files" / "sketch.png").read_bytes()
    (aside,) = instance.glob("before_restore_*")
    assert ["reed", "sand"] == _teachers(aside)
    assert b"drawn over" == (aside / "files" / "sketch.png").read_bytes()


def test_a_backup_holds_what_is_not_yet_in_the_main_file(instance: Path, tmp_path: Path) -> None:
    """With the writer still connected the newest rows are in SQLite's log, and are saved too."""
    store = Store(f"sqlite:///{instance / 'journal.sqlite3'}")
    with open_work(store, OPERATOR) as work:
        add_teacher(work, "tarn", "Tarn", "four words in a row")
    saved = tmp_path / "saved.zip"
    assert 0 == _run("backup", str(saved)).exit_code
    store.close()
    with zipfile.ZipFile(saved) as archive:
        archive.extract("journal.sqlite3", tmp_path)
        manifest = json.loads(archive.read("manifest.json"))
    assert ["reed", "tarn"] == _teachers(tmp_path)
    assert 2 == manifest["rows"]["teachers"]


def test_a_backup_is_for_the_owner_only(instance: Path, tmp_path: Path) -> None:
    """Nobody else on the machine may read the children's entries."""
    saved = tmp_path / "saved.zip"
    _run("backup", str(saved))
    assert 0o600 == saved.stat().st_mode & 0o777
    with zipfile.ZipFile(saved) as archive:
        assert {"journal.sqlite3", "files/sketch.png", "manifest.json"} == set(archive.namelist())


def test_a_running_journal_is_not_restored_over(instance: Path, tmp_path: Path) -> None:
    """While a server holds the instance, the restore says to stop it first."""
    saved = tmp_path / "saved.zip"
    _run("backup", str(saved))
    settings = get_settings(instance)
    with hold_server(settings), open_store(settings):
        told = _run("restore", str(saved))
    assert 2 == told.exit_code
    assert "Stop it first" in told.output


@pytest.mark.parametrize("slip", ["hash", "rows", "name", "list", "outside", "shape", "no zip"])
def test_a_backup_that_is_unlike_its_list_changes_nothing(
    instance: Path, tmp_path: Path, slip: str
) -> None:
    """A damaged or foreign file is refused with one sentence and the journal stays as it is."""
    saved = tmp_path / "saved.zip"
    _run("backup", str(saved))
    spoiled = tmp_path / "spoiled.zip"
    _spoil(saved, spoiled, slip)
    told = _run("restore", str(spoiled))
    assert 2 == told.exit_code, told.output
    assert told.output.startswith("Error: ")
    assert ["reed"] == _teachers(instance)
    assert [] == list(instance.glob("before_restore_*"))
    assert not (tmp_path / "outside.txt").exists()


def _spoil(saved: Path, spoiled: Path, slip: str) -> None:
    with zipfile.ZipFile(saved) as archive:
        content = {name: archive.read(name) for name in archive.namelist()}
    manifest = json.loads(content.pop("manifest.json"))
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
    if slip == "no zip":
        spoiled.write_bytes(b"PK")
        return
    with zipfile.ZipFile(spoiled, "w") as archive:
        for name, data in content.items():
            archive.writestr(name, data)
        archive.writestr("manifest.json", "[]" if slip == "list" else json.dumps(manifest))


def test_another_database_is_saved_by_its_own_tools(
    instance: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A database that is not a file of ours is named, not half saved."""
    monkeypatch.setenv("JOURNAL_DATABASE_URL", "sqlite:///:memory:")
    told = _run("backup", str(tmp_path / "saved.zip"))
    assert 2 == told.exit_code
    assert "pg_dump" in told.output
    assert not (tmp_path / "saved.zip").exists()
