"""Saves the whole journal as one file, while others go on writing.

A backup is a zip of `journal.sqlite3`, the folder `files/` and `manifest.json` (shape of the
database, rows of each table, SHA-256 of each file). It holds no keys and no passwords but the
hashes in the tables. A database on a server of its own is saved with that server's own tools.
"""

from __future__ import annotations

import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from journal.domain.errors import Refused
from journal.domain.messages import Message
from journal.services.backup_archives import DATABASE, Backup, check_archive, pack
from journal.store.migrate import known_revisions
from journal.store.raw_databases import count_rows, find_shape, open_to_read, require_sound

#: SQLite keeps what is not yet in the main file beside it.
COMPANIONS = ("-wal", "-shm", "-journal")


def make_backup(database: Path, files: Path, goal: Path, *, overwrite: bool = False) -> Backup:
    """Write a checked backup of a journal in use; `goal` appears whole or not at all.

    Raises Refused with the reason: there is no journal, its copy is not sound, `goal` is there
    already or cannot be written.
    """
    database, goal = database.absolute(), goal.absolute()
    _check_goal(goal, database, files, overwrite=overwrite)
    with (
        _worded_errors(goal),
        tempfile.TemporaryDirectory(prefix=".journal_backup_", dir=goal.parent) as folder,
    ):
        copy = Path(folder) / DATABASE
        _copy_database(database, copy)
        with closing(open_to_read(copy)) as connection:
            require_sound(connection)
            shape, rows = find_shape(connection), count_rows(connection)
        if shape not in known_revisions():
            raise Refused(
                Message("backups.no_journal_that_this_version_knows", database=str(database))
            )
        whole = Path(folder) / "backup.zip"
        backup = pack(whole, copy, files, shape=shape, rows=rows)
        check_archive(whole)
        sync(whole)
        _put_in_place(whole, goal, overwrite=overwrite)
        sync(goal.parent)
    return backup


def _check_goal(goal: Path, database: Path, files: Path, *, overwrite: bool) -> None:
    if not database.is_file():
        raise Refused(Message("backups.no_journal_to_save", database=str(database)))
    if not goal.parent.is_dir():
        raise Refused(Message("backups.is_no_folder", folder=str(goal.parent)))
    own = {database.with_name(database.name + ending).resolve() for ending in ("", *COMPANIONS)}
    where = goal.resolve()
    if where in own or where.is_relative_to(files.resolve()):
        raise Refused(Message("backups.belongs_to_the_journal_itself", goal=str(goal)))
    if goal.exists() and not overwrite:
        raise _there_already(goal)


def _there_already(goal: Path) -> Refused:
    return Refused(Message("backups.already_and_was_left_as_it_is", goal=str(goal)))


@contextmanager
def _worded_errors(goal: Path) -> Iterator[None]:
    """Tell what the disk or the database has against it; whatever was begun is cleared away."""
    try:
        yield
    except sqlite3.DatabaseError as error:
        raise Refused(
            Message("backups.journal_was_not_saved", error=str(error), goal=str(goal))
        ) from error
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise Refused(
            Message("backups.cannot_be_written", goal=str(goal), reason=reason)
        ) from error


def _copy_database(database: Path, copy: Path) -> None:
    """Copy with SQLite's own online backup: writers go on meanwhile."""
    with closing(open_to_read(database)) as source, closing(sqlite3.connect(copy)) as goal:
        source.backup(goal)
        # One self-contained file, without companions beside it.
        goal.execute("PRAGMA journal_mode=DELETE")
    sync(copy)


def _put_in_place(whole: Path, goal: Path, *, overwrite: bool) -> None:
    """Give the file its name at once; a file that came in between is not written over."""
    if overwrite:
        whole.replace(goal)
        return
    try:
        os.link(whole, goal)
    except FileExistsError as error:
        raise _there_already(goal) from error
    except OSError:
        # A stick formatted for every computer knows no second name of a file.
        whole.replace(goal)


def sync(path: Path) -> None:
    """Have the disk write it down, so that a power cut after the answer takes nothing back."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
