"""One server a folder, and nobody beside a command that exchanges or reshapes the database."""

import os
import signal
import socket
import sqlite3
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from journal.cli import locks
from journal.cli.instances import get_settings, open_store
from journal.cli.locks import SERVING, hold_server
from journal.cli.main import main
from journal.store import migrate

PASSWORD = "four words in a row\n"
PATIENCE_S = 20


def _run(*words: str, typed: str = "") -> Result:
    return CliRunner().invoke(main, list(words), input=typed)


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("", 0))
        return int(probe.getsockname()[1])


@pytest.fixture
def instance(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the folder of a new journal; nobody waits long for a lock."""
    monkeypatch.setattr(locks, "_PATIENCE_S", 0.2)
    folder = tmp_path / "instance"
    monkeypatch.setenv("JOURNAL_INSTANCE", str(folder))
    assert 0 == _run("database", "new").exit_code
    return folder


@contextmanager
def _server(*words: str) -> Iterator[subprocess.Popen[bytes]]:
    port = _free_port()
    server = subprocess.Popen(
        [sys.executable, "-m", "journal", "serve", "--port", str(port), *words],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        end = time.monotonic() + PATIENCE_S
        while True:
            try:
                socket.create_connection(("127.0.0.1", port), timeout=1).close()
                break
            except OSError:
                assert server.poll() is None, "The server ended."
                assert time.monotonic() < end, "The server did not open."
                time.sleep(0.05)
        yield server
    finally:
        server.kill()
        server.wait()


def test_a_second_server_is_refused_until_the_first_is_gone(instance: Path) -> None:
    """The first one is named by process and port; killed outright, it blocks nobody."""
    with _server() as first:
        told = _run("serve", "--port", str(_free_port()))
        assert 2 == told.exit_code, told.output
        assert f"process {first.pid}, port " in told.output
        assert str(instance) in told.output
        # Everyday commands go on beside a server.
        assert 0 == _run("teacher", "add", "reed", typed=PASSWORD).exit_code
        assert 0 == _run("backup", str(instance.parent / "saved.zip")).exit_code
        told = _run("restore", str(instance.parent / "saved.zip"))
        assert (2, True) == (told.exit_code, f"process {first.pid}" in told.output)
        first.send_signal(signal.SIGKILL)
        first.wait()
    with _server():
        pass


def test_two_folders_with_one_database_have_one_server(
    instance: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The address of a database that another folder serves is no way around."""
    with hold_server(get_settings(instance)):
        database = instance / "journal.sqlite3"
        link = tmp_path / "journal.sqlite3"
        link.symlink_to(database)
        for one in (database, link):
            monkeypatch.setenv("JOURNAL_DATABASE_URL", f"sqlite:///{one}")
            told = _run("serve", "--instance", str(tmp_path / "other"))
            assert (2, True) == (told.exit_code, "is open on the folder" in told.output)


def test_the_note_of_a_server_that_is_gone_does_not_count(instance: Path) -> None:
    """The lock counts, not the file: what a dead server wrote there stops nobody."""
    (instance / SERVING).write_text("process 1, port 8080, since 08:00")
    with hold_server(get_settings(instance)):
        assert f"process {os.getpid()}, port 8080" in (instance / SERVING).read_text()


def test_a_database_in_use_is_not_reshaped(instance: Path) -> None:
    """A command of a newer version waits for the server of the older one to be stopped."""
    settings = get_settings(instance)
    *_, before, newest = migrate.known_revisions()
    with open_store(settings) as store:
        migrate.downgrade(store.engine, before)
        told = _run("teacher", "add", "reed", typed=PASSWORD)
    assert (2, True) == (told.exit_code, "is in use" in told.output)
    assert before == _shape(instance)
    assert 0 == _run("database", "upgrade").exit_code
    assert newest == _shape(instance)


def _shape(instance: Path) -> str:
    with closing(sqlite3.connect(instance / "journal.sqlite3")) as connection:
        (shape,) = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    return str(shape)
