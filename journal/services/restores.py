"""Restores a backup: everything is checked first, then replaced in one step.

What let people in on the day of the backup lets nobody in today: lesson words and sign-ins end.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
import tempfile
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import datetime
from itertools import count, product
from pathlib import Path

from journal.domain.actors import OPERATOR
from journal.domain.errors import JournalError, Refused
from journal.domain.group_records import GroupRecord
from journal.domain.messages import Message
from journal.domain.record_checks import find_foreign_value
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.services.backup_archives import DATABASE, FILES, Backup, unpack
from journal.services.backups import COMPANIONS, sync
from journal.store import challenges, classes
from journal.store.engine import Store
from journal.store.groups import groups_of_class
from journal.store.migrate import known_revisions, newest_revision
from journal.store.raw_databases import (
    count_rows,
    find_shape,
    open_to_read,
    require_sound,
    take_over,
)
from journal.store.sign_ins import end_all

_SCRATCH = ".journal_restore_"
_FRESH = "fresh.sqlite3"


@dataclass(frozen=True, slots=True, kw_only=True)
class Restored:
    """What was restored, and the folder with the old state, if there was one."""

    backup: Backup
    aside: Path | None


def restore_backup(
    source: Path, database: Path, files: Path, now: datetime, *, largest_bytes: int
) -> Restored:
    """Put a backup in the place of what is there; the old state is kept in a folder beside it.

    Nothing is touched unless every file of the backup is what its list says and every row is one
    that the journal itself could have written. Nobody else may use the journal meanwhile. Raises
    Invalid or Refused with what is unlike.
    """
    database = database.absolute()
    database.parent.mkdir(parents=True, exist_ok=True)
    for left in database.parent.glob(f"{_SCRATCH}*"):
        # Of a restore that was cut off: it holds a copy of the children's entries.
        shutil.rmtree(left, ignore_errors=True)
    try:
        with tempfile.TemporaryDirectory(prefix=_SCRATCH, dir=database.parent) as folder:
            fresh = Path(folder)
            backup = unpack(source, fresh, largest_bytes)
            _prepare(backup, fresh, now)
            aside = _exchange(fresh, database, files.absolute(), now)
    except JournalError as error:
        raise type(error)(Message("restores.nothing_changed", why=error.message)) from error
    except (OSError, sqlite3.Error) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise Refused(
            Message("restores.was_not_restored", name=source.name, reason=reason)
        ) from error
    return Restored(backup=backup, aside=aside)


def _prepare(backup: Backup, fresh: Path, now: datetime) -> None:
    """Check the database of the backup and make the one that is to take its place."""
    given = fresh / DATABASE
    with closing(open_to_read(given)) as connection:
        require_sound(connection)
        shape, rows = find_shape(connection), count_rows(connection)
    if shape not in known_revisions():
        newer = shape.isdigit() and shape > (newest_revision() or "")
        raise Refused(
            Message("restores.backup_comes_from_a_newer_version")
            if newer
            else Message("restores.database_in_the_backup_is_not_one")
        )
    unlike = {name for name, _ in rows.items() ^ backup.rows.items()}
    if unlike or shape != backup.shape:
        named = ", ".join(sorted(unlike)) or Message("restores.shape_of_the_database")
        raise Refused(Message("restores.backup_is_not_what_its_list_says", named=named))
    store = take_over(given, fresh / _FRESH, shape)
    try:
        _read_records(store)
        _end_what_lets_in(store, now)
    finally:
        store.close()
    with closing(sqlite3.connect(fresh / _FRESH)) as connection:
        # One self-contained file, without companions beside it.
        connection.execute("PRAGMA journal_mode=DELETE")


def _read_records(store: Store) -> None:
    """Gather every group's record once: challenges and lists are read by the rules of the house."""
    with open_work(store, OPERATOR, writing=False) as work:
        for school_class in classes.all_classes(work.session):
            try:
                opened = challenges.challenges_of_class(work.session, school_class.id)
                groups = groups_of_class(work.session, school_class.id)
                for challenge, group in product(opened, groups):
                    record = gather_group(work, get_group_context(work, group.id, challenge.id))
                    _require_own_words(record)
            except Refused:
                raise
            except Exception as error:
                # Whatever a reader stumbles over here, a page would.
                raise Refused(
                    Message("restores.records_of_hold_what_no_journal_does", name=school_class.name)
                ) from error


def _require_own_words(record: GroupRecord) -> None:
    """Raise Refused where a value is none of its challenge's own."""
    if foreign := find_foreign_value(record):
        named = record.context.school_class.name
        raise Refused(Message("restores.foreign_value", class_name=named, what=foreign))


def _end_what_lets_in(store: Store, now: datetime) -> None:
    with store.open_session(writing=True) as session:
        classes.drop_all_lesson_words(session)
        end_all(session, now)


def _exchange(fresh: Path, database: Path, files: Path, now: datetime) -> Path | None:
    """Keep the old state aside and put the new one in its place, or leave all as it was."""
    _fold_log(database)
    old = [path for path in _belonging(database) if path.exists()]
    aside = _make_aside(files.parent, now) if old or files.exists() else None
    moved: list[tuple[Path, Path]] = []
    try:
        sync(fresh / _FRESH)
        if aside is not None:
            if files.exists():
                _move(files, aside / FILES, moved)
            for path in old[1:] if database in old else old:
                _move(path, aside / path.name, moved)
            if database in old:
                _keep(database, aside / database.name)
        if (fresh / FILES).is_dir():
            _move(fresh / FILES, files, moved)
        # Last, and at once: until here the old journal is in its place, from here the new one.
        (fresh / _FRESH).replace(database)
    except BaseException:
        for before, after in reversed(moved):
            shutil.move(after, before)
        if aside is not None:
            shutil.rmtree(aside, ignore_errors=True)
        raise
    for folder in {database.parent, files.parent, *([aside] if aside else [])}:
        sync(folder)
    return aside


def _belonging(database: Path) -> list[Path]:
    return [database.with_name(database.name + ending) for ending in ("", *COMPANIONS)]


def _fold_log(database: Path) -> None:
    """Bring into the main file what SQLite keeps beside it, so that one file is the whole state.

    A damaged one cannot be brought in; then both are kept aside as they are.
    """
    if database.exists():
        with suppress(sqlite3.Error), closing(sqlite3.connect(database)) as connection:
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def _make_aside(folder: Path, now: datetime) -> Path:
    for number in count(1):
        more = f"_{number}" if number > 1 else ""
        aside = folder / f"before_restore_{now:%Y%m%dT%H%M%SZ}{more}"
        with suppress(FileExistsError):
            aside.mkdir(mode=0o700)
            return aside
    raise AssertionError  # there is always a next number


def _move(before: Path, after: Path, moved: list[tuple[Path, Path]]) -> None:
    # The folder of files and a database elsewhere may lie on two disks.
    shutil.move(before, after)
    moved.append((before, after))


def _keep(database: Path, copy: Path) -> None:
    """Keep the old database under a second name, without a moment in which there is none."""
    try:
        os.link(database, copy)
    except OSError:
        # Not every disk knows second names.
        shutil.copy2(database, copy)
        sync(copy)
