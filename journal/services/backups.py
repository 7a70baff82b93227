"""A whole journal as one file, and back: nothing is copied from under a writer.

A backup is a zip of `journal.sqlite3`, the folder `files/` and `manifest.json` (shape of the
database, rows of each table, SHA-256 of each file). It holds no keys and no passwords but the
hashes in the tables. A database on a server of its own is saved with that server's own tools.
"""

from __future__ import annotations

import hashlib
import json
import os
import sqlite3
import tempfile
import zipfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path, PurePosixPath

from journal.domain.errors import Invalid, Refused
from journal.store.migrate import newest_revision

DATABASE = "journal.sqlite3"
MANIFEST = "manifest.json"
FILES = "files"
_CHUNK_BYTES = 1 << 20
#: SQLite keeps what is not yet in the main file beside it.
_COMPANIONS = ("", "-wal", "-shm")


@dataclass(frozen=True, slots=True, kw_only=True)
class Backup:
    """What a backup holds."""

    shape: str
    rows: dict[str, int]
    #: SHA-256 by name inside the backup.
    hashes: dict[str, str]

    @property
    def row_count(self) -> int:
        """Return the rows of all tables together."""
        return sum(self.rows.values())


def make_backup(database: Path, files: Path, goal: Path) -> Backup:
    """Write a checked backup of a journal in use; `goal` appears whole or not at all.

    Raises Refused where there is no database or its copy is not sound, OSError where the disk
    cannot take it.
    """
    if not database.is_file():
        raise Refused(f"There is no journal to save: {database} does not exist.")
    goal = goal.absolute()
    with tempfile.TemporaryDirectory(prefix=".journal_backup_", dir=goal.parent) as folder:
        copy = Path(folder) / DATABASE
        _copy_database(database, copy)
        backup = _describe(copy, files)
        whole = Path(folder) / "backup.zip"
        _pack(whole, copy, files, backup)
        _sync(whole)
        whole.replace(goal)
    _sync(goal.parent)
    return backup


def restore_backup(source: Path, database: Path, files: Path, aside: Path) -> Backup:
    """Put a backup in the place of what is there; the old state is kept in the folder `aside`.

    Nothing is touched unless every file of the backup is what its manifest says, the database is
    sound and each table has its rows. Raises Invalid or Refused with what is unlike.
    """
    database.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix=".journal_restore_", dir=database.parent) as folder:
        fresh = Path(folder)
        backup = _unpack(source, fresh)
        _require_same(backup, _describe(fresh / DATABASE, fresh / FILES))
        _put_aside(database, files, aside)
        (fresh / DATABASE).replace(database)
        if (fresh / FILES).is_dir():
            (fresh / FILES).replace(files)
    _sync(database.parent)
    return backup


def _copy_database(database: Path, copy: Path) -> None:
    """Copy with SQLite's own online backup: writers go on meanwhile."""
    with (
        closing(sqlite3.connect(f"file:{database}?mode=ro", uri=True)) as source,
        closing(sqlite3.connect(copy)) as goal,
    ):
        source.backup(goal)
        # One self-contained file, without companions beside it.
        goal.execute("PRAGMA journal_mode=DELETE")
    _sync(copy)


def _describe(database: Path, files: Path) -> Backup:
    try:
        with closing(sqlite3.connect(f"file:{database}?mode=ro", uri=True)) as connection:
            _require_sound(connection)
            rows = {name: _count(connection, name) for name in _tables(connection)}
            shape = _shape(connection)
    except sqlite3.DatabaseError as error:
        raise Refused(f"The database in it is not sound: {error}.") from error
    hashes = {DATABASE: _hash(database)}
    for path in _files_in(files):
        hashes[f"{FILES}/{path.relative_to(files).as_posix()}"] = _hash(path)
    return Backup(shape=shape, rows=rows, hashes=hashes)


def _require_sound(connection: sqlite3.Connection) -> None:
    (told,) = connection.execute("PRAGMA integrity_check").fetchone()
    if told != "ok":
        raise Refused(f"The database is not sound: {told}.")
    lost = connection.execute("PRAGMA foreign_key_check").fetchall()
    if lost:
        raise Refused(f"{len(lost)} rows point to rows that are not there, first in {lost[0][0]}.")


def _tables(connection: sqlite3.Connection) -> list[str]:
    found = connection.execute(
        "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' "
        "ORDER BY name"
    )
    return [name for (name,) in found]


def _count(connection: sqlite3.Connection, table: str) -> int:
    # The name comes from the database's own list of tables.
    (count,) = connection.execute(f'SELECT count(*) FROM "{table}"').fetchone()  # noqa: S608
    return int(count)


def _shape(connection: sqlite3.Connection) -> str:
    try:
        row = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    except sqlite3.OperationalError:
        return ""
    return str(row[0]) if row else ""


def _pack(whole: Path, database: Path, files: Path, backup: Backup) -> None:
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.write(database, DATABASE)
        for path in _files_in(files):
            archive.write(path, f"{FILES}/{path.relative_to(files).as_posix()}")
        manifest = {"shape": backup.shape, "rows": backup.rows, "hashes": backup.hashes}
        archive.writestr(MANIFEST, json.dumps(manifest, indent=1, sort_keys=True))


def _unpack(source: Path, folder: Path) -> Backup:
    with _open_backup(source) as archive:
        backup = _read_manifest(source, archive)
        names = set(archive.namelist()) - {MANIFEST}
        if names != set(backup.hashes):
            raise Invalid(f"{source.name} does not hold what its list names. Take another backup.")
        for name in sorted(names):
            path = PurePosixPath(name)
            if name != DATABASE and (path.parts[0] != FILES or ".." in path.parts):
                raise Invalid(f"{source.name} holds {name!r}, which no backup of a journal does.")
            archive.extract(name, folder)
    return backup


@contextmanager
def _open_backup(source: Path) -> Iterator[zipfile.ZipFile]:
    try:
        with zipfile.ZipFile(source) as archive:
            yield archive
    except zipfile.BadZipFile as error:
        raise Invalid(f"{source.name} is not a backup of a journal, or it is damaged.") from error


def _read_manifest(source: Path, archive: zipfile.ZipFile) -> Backup:
    try:
        manifest = json.loads(archive.read(MANIFEST))
        return Backup(
            shape=str(manifest["shape"]),
            rows={str(name): int(count) for name, count in manifest["rows"].items()},
            hashes={str(name): str(value) for name, value in manifest["hashes"].items()},
        )
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise Invalid(
            f"{source.name} is not a backup of a journal: its list is damaged."
        ) from error


def _require_same(backup: Backup, found: Backup) -> None:
    unlike = [name for name, value in backup.hashes.items() if found.hashes.get(name) != value]
    unlike += [name for name, count in backup.rows.items() if found.rows.get(name) != count]
    if found.shape > (newest_revision() or ""):
        raise Refused("The backup comes from a newer version of the journal. Install that first.")
    if unlike or backup.shape != found.shape:
        named = ", ".join(unlike) or "the shape of the database"
        raise Refused(f"The backup is not what its list says ({named}). Nothing was changed.")


def _put_aside(database: Path, files: Path, aside: Path) -> None:
    aside.mkdir(parents=True)
    for ending in _COMPANIONS:
        path = database.with_name(database.name + ending)
        if path.exists():
            path.replace(aside / path.name)
    if files.is_dir():
        files.replace(aside / FILES)


def aside_folder(instance: Path, now: datetime) -> Path:
    """Return the folder in which a restore keeps the old state."""
    return instance / f"before_restore_{now:%Y%m%dT%H%M%SZ}"


def _files_in(files: Path) -> list[Path]:
    return sorted(path for path in files.rglob("*") if path.is_file()) if files.is_dir() else []


def _hash(path: Path) -> str:
    digest = hashlib.sha256()
    with path.open("rb") as file:
        while chunk := file.read(_CHUNK_BYTES):
            digest.update(chunk)
    return digest.hexdigest()


def _sync(path: Path) -> None:
    """Have the disk write it down, so that a power cut after the answer takes nothing back."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
