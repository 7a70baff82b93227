"""A command works where a journal is and where this person may write; else it says why not."""

import os
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from journal.cli.main import main
from journal.store import migrate

PASSWORD = "four words in a row\n"
WITHOUT_DEMO = [
    ("serve",),
    ("database", "upgrade"),
    ("teacher", "add", "reed"),
    ("teacher", "password", "reed"),
    ("portfolio", "-o", "out.pdf"),
    ("trials", "import", "trials.csv", "--class", "5B", "--challenge", "x"),
    ("backup", "saved.zip"),
    ("restore", "saved.zip"),
]


def _run(*words: str, typed: str = "") -> Result:
    return CliRunner().invoke(main, list(words), input=typed)


@pytest.fixture
def instance(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the folder of a new journal."""
    folder = tmp_path / "instance"
    monkeypatch.setenv("JOURNAL_INSTANCE", str(folder))
    told = _run("database", "new")
    assert (0, True) == (told.exit_code, str(folder) in told.output)
    return folder


@pytest.mark.parametrize("words", WITHOUT_DEMO, ids=" ".join)
def test_in_the_wrong_folder_no_journal_is_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    """Each command says in which folder it looked, and leaves that folder as it was."""
    (tmp_path / "trials.csv").write_text("revision,value\nLauncher 1,2\n")
    (tmp_path / "saved.zip").write_bytes(b"PK")
    before = sorted(tmp_path.iterdir())
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("JOURNAL_INSTANCE", raising=False)
    told = _run(*words, typed=PASSWORD)
    assert 2 == told.exit_code, told.output
    assert f"There is no journal in {tmp_path / 'instance'}" in told.output
    assert "--instance" in told.output
    assert before == sorted(tmp_path.iterdir())


def test_a_new_journal_is_begun_once(instance: Path) -> None:
    """A second `database new` leaves the first one alone."""
    assert 0 == _run("teacher", "add", "reed", typed=PASSWORD).exit_code
    told = _run("database", "new")
    assert (2, True) == (told.exit_code, "already" in told.output)
    assert 2 == _run("teacher", "add", "reed", typed=PASSWORD).exit_code


def test_tables_of_another_program_are_left_alone(instance: Path) -> None:
    """A database that is no journal gets no tables of ours beside its own."""
    path = instance / "journal.sqlite3"
    path.unlink()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE recipes (name TEXT)")
        connection.commit()
    told = _run("teacher", "add", "reed", typed=PASSWORD)
    assert (2, True) == (told.exit_code, "another program" in told.output)
    with closing(sqlite3.connect(path)) as connection:
        names = connection.execute("SELECT name FROM sqlite_master").fetchall()
    assert [("recipes",)] == names


def test_a_journal_of_a_newer_version_is_left_alone(instance: Path) -> None:
    """An older version says which shape it met and which it knows."""
    path = instance / "journal.sqlite3"
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9876'")
        connection.commit()
    told = _run("teacher", "add", "reed", typed=PASSWORD)
    assert 2 == told.exit_code
    assert "newer version" in told.output
    assert "9876" in told.output
    assert str(migrate.newest_revision()) in told.output


def test_a_damaged_database_is_said_in_words(instance: Path) -> None:
    """A file that is no database ends no command with a trace."""
    (instance / "journal.sqlite3").write_bytes(b"once a database" * 400)
    told = _run("teacher", "add", "reed", typed=PASSWORD)
    assert (2, True) == (told.exit_code, "journal restore" in told.output)


def test_a_locked_database_is_said_in_words(
    instance: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another program that holds the database is named as the reason after the waiting time."""
    with closing(sqlite3.connect(instance / "journal.sqlite3")) as other:
        other.execute("BEGIN EXCLUSIVE")
        told = _run("teacher", "add", "reed", typed=PASSWORD)
    assert 2 == told.exit_code
    assert "Another program holds the database locked" in told.output


def test_an_address_of_a_database_that_is_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is said which setting is wrong, and a password in it is not repeated."""
    monkeypatch.setenv("JOURNAL_DATABASE_URL", "postgres/hunter2")
    told = _run("teacher", "add", "reed", "--instance", str(tmp_path), typed=PASSWORD)
    assert (2, True) == (told.exit_code, "JOURNAL_DATABASE_URL" in told.output)
    assert "hunter2" not in told.output


def test_a_file_in_the_place_of_the_folder_is_named(tmp_path: Path) -> None:
    """A file cannot hold a journal."""
    (tmp_path / "instance").write_text("notes")
    told = CliRunner().invoke(main, ["demo"], env={"JOURNAL_INSTANCE": str(tmp_path / "instance")})
    assert (2, True) == (told.exit_code, f"{tmp_path / 'instance'} is a file" in told.output)


def _run_without_power(*words: str) -> subprocess.CompletedProcess[str]:
    """Run a command as somebody for whom the permissions of files hold, even where we are root."""
    command = [sys.executable, "-m", "journal", *words]
    if os.geteuid() == 0:
        bounds = "--bounding-set=-dac_override,-dac_read_search"
        command = ["setpriv", bounds, "--inh-caps=-all", *command]
    return subprocess.run(command, input=PASSWORD, capture_output=True, text=True, check=False)


@pytest.mark.parametrize("command", ["serve", "teacher add reed", "restore saved.zip"])
def test_a_folder_closed_to_writing_is_said_in_words(
    instance: Path, tmp_path: Path, command: str
) -> None:
    """Nothing is begun where the folder cannot be written in."""
    saved = tmp_path / "saved.zip"
    assert 0 == _run("backup", str(saved)).exit_code
    words = [str(saved) if word == "saved.zip" else word for word in command.split()]
    instance.chmod(0o500)
    told = _run_without_power(*words)
    instance.chmod(0o700)
    assert (2, "") == (told.returncode, told.stdout)
    assert f"{instance} is closed to writing" in told.stderr


def test_a_database_that_can_only_be_read_is_said_in_words(instance: Path) -> None:
    """The file is named, not only that the database cannot be used."""
    (instance / "journal.sqlite3").chmod(0o400)
    told = _run_without_power("teacher", "add", "reed")
    assert 2 == told.returncode
    assert f"{instance / 'journal.sqlite3'} is closed to writing" in told.stderr


@pytest.mark.skipif(os.geteuid() != 0, reason="only root can give a file to another user")
def test_a_folder_of_another_user_is_said_in_words(instance: Path) -> None:
    """Both users are named, and what to do."""
    for path in (*instance.iterdir(), instance):
        shutil.chown(path, user="nobody")
    told = _run_without_power("serve")
    assert 2 == told.returncode
    assert f"root may not write in {instance}: it belongs to nobody" in told.stderr


def test_a_disk_without_room_is_said_in_words(instance: Path, tmp_path: Path) -> None:
    """SQLite calls it an error of the disk where it cannot even begin its log."""
    code = (
        "import resource, sys; from journal.cli.main import main;"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100)); sys.argv[0] = 'journal'; main()"
    )
    told = subprocess.run(
        [sys.executable, "-c", code, "teacher", "add", "reed"],
        input=PASSWORD,
        capture_output=True,
        text=True,
        check=False,
    )
    assert 2 == told.returncode
    assert "The disk is full, or it fails" in told.stderr
