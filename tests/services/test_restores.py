"""Whatever happens to a backup or in the midst of a restore: a whole journal is in its place."""

import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from journal.domain.errors import JournalError, Refused
from journal.services import restores
from journal.services.backup_archives import MB, unpack
from journal.services.restores import restore_backup
from tests.cli.backups import make_instance, put_teacher, save, teachers
from tests.sentences import raises

LARGEST_BYTES = 100 * MB
#: What a small backup is sampled by; the list at its end is taken byte by byte.
STEP_BYTES = 211
LIST_BYTES = 700
NOW = datetime(2030, 3, 4, 9, 0, tzinfo=UTC)
#: Ends the process without a word at the n-th change on the disk, as a power cut does.
CUT = """
import os, shutil, sys
from datetime import UTC, datetime
from pathlib import Path
from journal.services.restores import restore_backup
left = [int(sys.argv[3])]
def cut(change):
    def changing(*given):
        if left[0] == 0:
            os._exit(9)
        left[0] -= 1
        return change(*given)
    return changing
os.link, shutil.move, Path.mkdir = cut(os.link), cut(shutil.move), Path.mkdir
Path.replace = cut(Path.replace)
folder = Path(sys.argv[2])
restore_backup(Path(sys.argv[1]), folder / "journal.sqlite3", folder / "files",
    datetime.now(UTC), largest_bytes=10**8)
"""


@pytest.fixture
def instance(tmp_path: Path) -> Path:
    """Return the folder of a journal with one teacher and one file."""
    return make_instance(tmp_path / "instance")


def test_no_turned_byte_gets_through_or_ends_with_a_trace(instance: Path, tmp_path: Path) -> None:
    """Whichever byte is turned over, the backup is refused or gives the very same files."""
    saved = save(instance, tmp_path / "saved.zip")
    whole = saved.read_bytes()
    true = unpack(saved, _folder(tmp_path), LARGEST_BYTES)
    refused = 0
    places = [*range(0, len(whole), STEP_BYTES), *range(len(whole) - LIST_BYTES, len(whole))]
    for place in places:
        turned = bytearray(whole)
        turned[place] ^= 0xFF
        saved.write_bytes(turned)
        try:
            found = unpack(saved, _folder(tmp_path), LARGEST_BYTES)
        except JournalError:
            refused += 1
        else:
            assert true.hashes == found.hashes
    assert refused > len(places) // 2
    for length in range(0, len(whole), len(whole) // 50):
        saved.write_bytes(whole[:length])
        with pytest.raises(JournalError):
            unpack(saved, _folder(tmp_path), LARGEST_BYTES)


def _folder(tmp_path: Path) -> Path:
    shutil.rmtree(tmp_path / "unpacked", ignore_errors=True)
    (tmp_path / "unpacked").mkdir()
    return tmp_path / "unpacked"


def _failing(*given: object) -> None:
    raise OSError(28, "No space left on device")


@pytest.mark.parametrize(
    ("module", "name"),
    [(shutil, "move"), (Path, "replace"), (restores, "_keep"), (shutil, "disk_usage")],
)
def test_a_full_disk_changes_nothing(
    instance: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, module: object, name: str
) -> None:
    """Wherever the disk fails, the old journal is in its place and the reason is a sentence."""
    saved = save(instance, tmp_path / "saved.zip")
    put_teacher(instance, "sand")
    monkeypatch.setattr(module, name, _failing)
    with raises(Refused, match=r"No space left on device. Nothing was changed"):
        _restore(saved, instance)
    monkeypatch.undo()
    assert ["reed", "sand"] == teachers(instance)
    assert b"not really a picture" == (instance / "files" / "sketch.png").read_bytes()
    assert not list(instance.glob("before_restore_*"))
    assert not list(instance.glob(".journal_*"))


def test_a_disk_that_is_too_full_is_said_before(
    instance: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What must be free is told in MB."""
    saved = save(instance, tmp_path / "saved.zip")
    usage = shutil.disk_usage(tmp_path)._replace(free=1000)
    monkeypatch.setattr(shutil, "disk_usage", lambda _: usage)
    with raises(Refused, match=r"too full: \d+ MB must be free"):
        _restore(saved, instance)


def _restore(saved: Path, instance: Path) -> None:
    restore_backup(
        saved, instance / "journal.sqlite3", instance / "files", NOW, largest_bytes=LARGEST_BYTES
    )


def test_cut_off_at_any_step_a_whole_journal_is_there(instance: Path, tmp_path: Path) -> None:
    """Killed at each change on the disk, the folder holds all of the old rows or all of the new.

    The newest row of the old state is in SQLite's log only, as after a power cut.
    """
    saved = save(instance, tmp_path / "saved.zip")
    put_teacher(instance, "sand")
    with closing(sqlite3.connect(instance / "journal.sqlite3")) as connection:
        connection.execute("UPDATE teachers SET sign_in_name = 'tarn' WHERE sign_in_name = 'sand'")
        connection.commit()
        old = shutil.copytree(instance, tmp_path / "old")
    assert (old / "journal.sqlite3-wal").stat().st_size > 0
    seen = []
    for step in range(20):
        folder = shutil.copytree(old, tmp_path / f"cut {step}")
        ended = subprocess.run(
            [sys.executable, "-c", CUT, str(saved), str(folder), str(step)], check=False
        ).returncode
        assert teachers(folder) in (["reed"], ["reed", "tarn"])
        # Done again, it succeeds, and nothing of the one cut off is left but its folder aside.
        _restore(saved, folder)
        assert ["reed"] == teachers(folder)
        assert not list(folder.glob(".journal_*"))
        seen.append(ended)
        if ended == 0:
            break
    assert len(seen) >= 4
    assert {9} == set(seen[:-1])
    assert 0 == seen[-1]


def test_a_stick_without_second_names_serves_as_well(
    instance: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where a file can have one name only, backup and restore do without a second one."""
    monkeypatch.setattr("os.link", _not_supported)
    saved = save(instance, tmp_path / "saved.zip")
    put_teacher(instance, "sand")
    _restore(saved, instance)
    (aside,) = instance.glob("before_restore_*")
    assert (["reed"], ["reed", "sand"]) == (teachers(instance), teachers(aside))


def _not_supported(*given: object) -> None:
    raise PermissionError(1, "Operation not permitted")


def test_sqlite_says_that_the_disk_is_full(
    instance: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """SQLite's own errors are told like those of the disk."""
    saved = save(instance, tmp_path / "saved.zip")
    monkeypatch.setattr(restores, "_prepare", _raising(sqlite3.OperationalError("disk is full")))
    with raises(Refused, match=r"disk is full. Nothing was changed"):
        _restore(saved, instance)


def _raising(error: Exception) -> Callable[..., None]:
    def fail(*given: object) -> None:
        raise error

    return fail
