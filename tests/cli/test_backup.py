"""A backup is taken while others write; it appears whole or not at all, and over nothing else."""

import os
import sqlite3
import stat
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.settings import default_database_url
from journal.records.work import open_work
from journal.services.teachers import add_teacher
from journal.store.engine import Store
from tests.cli.backups import PASSWORD, make_instance, read, run, save, teachers

#: Larger than what the commands write beside it, smaller than an empty journal.
LARGEST_FILE_BYTES = 60_000
ON_A_FULL_DISK = f"""
import resource, sys
from journal.cli.main import main
resource.setrlimit(resource.RLIMIT_FSIZE, ({LARGEST_FILE_BYTES}, {LARGEST_FILE_BYTES}))
sys.argv[0] = "journal"
main()
"""


@pytest.fixture
def instance(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the folder of a journal; its name needs care in an address of a database."""
    folder = tmp_path / "5B #2? 50%25 new" / "instance"
    monkeypatch.setenv("JOURNAL_INSTANCE", str(folder))
    return make_instance(folder)


def _left_over(folder: Path) -> list[str]:
    return [path.name for path in folder.iterdir() if path.name.startswith(".journal_")]


def test_a_backup_holds_what_is_not_yet_in_the_main_file(instance: Path, tmp_path: Path) -> None:
    """With the writer still connected the newest rows are in SQLite's log, and are saved too."""
    store = Store(default_database_url(instance))
    with open_work(store, OPERATOR) as work:
        add_teacher(work, "tarn", "Tarn", PASSWORD)
    content, manifest = read(save(instance, tmp_path / "saved.zip"))
    store.close()
    (tmp_path / "journal.sqlite3").write_bytes(content["journal.sqlite3"])
    assert ["reed", "tarn"] == teachers(tmp_path)
    assert 2 == manifest["rows"]["teachers"]


def test_a_backup_is_for_the_owner_only(instance: Path, tmp_path: Path) -> None:
    """Nobody else on the machine may read the children's entries; no key is in it."""
    saved = save(instance, tmp_path / "saved.zip")
    assert 0o600 == stat.S_IMODE(saved.stat().st_mode)
    content, _ = read(saved)
    assert {"journal.sqlite3", "files/sketch.png"} == set(content)


def test_a_file_that_is_there_is_left_alone_unless_told(instance: Path, tmp_path: Path) -> None:
    """The same name twice keeps the first file; with --overwrite the second one takes its place."""
    goal = tmp_path / "saved.zip"
    goal.write_text("the letter to the parents")
    told = run("backup", str(goal))
    assert (2, True) == (told.exit_code, "is there already" in told.output)
    assert "the letter to the parents" == goal.read_text()
    assert 0 == run("backup", str(goal), "--overwrite").exit_code
    assert "journal.sqlite3" in read(goal)[0]
    assert [] == _left_over(tmp_path)


@pytest.mark.parametrize("own", ["journal.sqlite3", "journal.sqlite3-wal", "files/saved.zip"])
def test_a_backup_never_goes_over_the_journal_itself(instance: Path, own: str) -> None:
    """Not even with --overwrite, and not through a link."""
    link = instance.parent / "link"
    link.symlink_to(instance)
    for folder in (instance, link):
        told = run("backup", str(folder / own), "--overwrite")
        assert (2, True) == (told.exit_code, "belongs to the journal" in told.output), told.output
    assert ["reed"] == teachers(instance)


def test_a_folder_that_is_not_there_is_named(instance: Path, tmp_path: Path) -> None:
    """And not the name of a scratch folder in it."""
    told = run("backup", str(tmp_path / "stick" / "saved.zip"))
    assert (2, True) == (told.exit_code, f"no folder {tmp_path / 'stick'}" in told.output)


def test_a_full_disk_leaves_no_half_backup(instance: Path, tmp_path: Path) -> None:
    """One sentence, no file under the name, no scratch folder, and an older copy is kept."""
    goal = tmp_path / "saved.zip"
    goal.write_text("the copy of last week")
    told = subprocess.run(
        [sys.executable, "-c", ON_A_FULL_DISK, "backup", str(goal), "--overwrite"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert (2, 1) == (told.returncode, len(told.stderr.splitlines())), told.stderr
    assert told.stderr.startswith("Error: ")
    assert "the copy of last week" == goal.read_text()
    assert [] == _left_over(tmp_path)


def test_a_damaged_database_is_not_saved_as_if_it_were_sound(
    instance: Path, tmp_path: Path
) -> None:
    """It is said that the database is damaged, while the last good copy is still there."""
    path = instance / "journal.sqlite3"
    data = bytearray(path.read_bytes())
    data[8192:40960] = b"\xa5" * (40960 - 8192)
    path.write_bytes(data)
    told = run("backup", str(tmp_path / "saved.zip"))
    assert 2 == told.exit_code, told.output
    assert told.output.startswith("Error: The ")
    assert [] == [one.name for one in tmp_path.glob("*saved*")]


def test_a_database_of_another_program_is_not_saved(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What a restore would refuse is refused when it is saved."""
    path = tmp_path / "recipes.sqlite3"
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE recipes (name TEXT)")
    monkeypatch.setenv("JOURNAL_DATABASE_URL", f"sqlite:///{path}")
    monkeypatch.setenv("JOURNAL_INSTANCE", str(tmp_path))
    told = run("backup", str(tmp_path / "saved.zip"))
    assert (2, True) == (told.exit_code, "is no journal" in told.output)


def test_a_clock_that_starts_in_1970_does_not_stop_a_backup(instance: Path, tmp_path: Path) -> None:
    """A zip knows no time before 1980; a laptop with an empty battery does."""
    os.utime(instance / "files" / "sketch.png", (0, 0))
    save(instance, tmp_path / "saved.zip")


def test_a_journal_that_can_only_be_read_is_saved(instance: Path, tmp_path: Path) -> None:
    """From a folder without the right to write, as from a disk that is put aside."""
    command = [sys.executable, "-m", "journal", "backup", str(tmp_path / "saved.zip")]
    if os.geteuid() == 0:
        command = ["setpriv", "--bounding-set=-dac_override", "--inh-caps=-all", *command]
    for path in instance.glob("*"):
        path.chmod(0o500)
    instance.chmod(0o500)
    told = subprocess.run(command, capture_output=True, text=True, check=False)
    for path in (instance, *instance.glob("*")):
        path.chmod(0o700)
    assert 0 == told.returncode, told.stderr
    assert 1 == read(tmp_path / "saved.zip")[1]["rows"]["teachers"]


def test_another_database_is_saved_by_its_own_tools(
    instance: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A database that is not a file of ours is named, not half saved."""
    monkeypatch.setenv("JOURNAL_DATABASE_URL", "sqlite:///:memory:")
    told = run("backup", str(tmp_path / "saved.zip"))
    assert 2 == told.exit_code
    assert "pg_dump" in told.output
    assert not (tmp_path / "saved.zip").exists()
