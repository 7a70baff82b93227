"""Where a journal is kept, and whether this person may work there: looked at, never changed."""

from __future__ import annotations

import os
import pwd
from pathlib import Path

import sqlalchemy as sa

from journal.cli.sentences import Stop
from journal.domain.settings import Settings

USUAL_DATABASE = "journal.sqlite3"
#: SQLite keeps what is not yet in the main file beside it.
_COMPANIONS = ("", "-wal", "-shm")


def find_database_file(settings: Settings) -> Path | None:
    """Return the file of the embedded database; None where the database is another one."""
    try:
        url = sa.engine.make_url(settings.database_url)
    except sa.exc.ArgumentError as error:
        # The address may hold a password, so it is not repeated.
        raise Stop(
            "JOURNAL_DATABASE_URL is no address of a database. It looks like "
            "postgresql+psycopg://name@host/database; without it the journal keeps its own file."
        ) from error
    if url.get_backend_name() != "sqlite" or not url.database or url.database == ":memory:":
        return None
    return Path(url.database)


def require_journal(settings: Settings) -> None:
    """Stop where there is no journal, and say where it was looked for."""
    database = find_database_file(settings)
    if database is None:
        return
    folder = database.absolute().parent
    if os.path.isdir(folder) and not os.access(folder, os.R_OK | os.X_OK):  # noqa: PTH112 (of a path that may lie in a closed folder)
        raise Stop(_why_not(folder))
    if os.path.exists(database):  # noqa: PTH110 (as above)
        return
    raise Stop(
        f"There is no journal in {folder} ({database.name} is not there). "
        "Go to the folder of your journal, or name its instance folder: --instance DIR. "
        "To begin a new, empty one there: journal database new"
    )


def require_access(settings: Settings) -> None:
    """Stop where this person may not work with the files of the journal, and say whose they are."""
    database = find_database_file(settings)
    folders = {settings.instance.absolute()}
    files = [settings.secret_file.absolute()]
    if database is not None:
        home = database.absolute().parent
        # The instance folder is made where it is needed, another one is not.
        if home not in folders and not os.path.isdir(home):  # noqa: PTH112 (as above)
            raise Stop(f"There is no folder {home}, but JOURNAL_DATABASE_URL names a file in it.")
        folders.add(home)
        files += [database.absolute().with_name(database.name + suffix) for suffix in _COMPANIONS]
    for folder in sorted(folders):
        there = _nearest(folder)
        if not there.is_dir():
            raise Stop(f"{there} is a file, but a folder is needed there. Choose another folder.")
        if not os.access(there, os.R_OK | os.W_OK | os.X_OK):
            raise Stop(_why_not(there))
    for file in files:
        need = os.R_OK if file == settings.secret_file.absolute() else os.R_OK | os.W_OK
        if file.exists() and not os.access(file, need):
            raise Stop(_why_not(file))


def _nearest(folder: Path) -> Path:
    return next(path for path in (folder, *folder.parents) if os.path.exists(path))  # noqa: PTH110 (as above)


def _why_not(path: Path) -> str:
    if os.statvfs(path).f_flag & os.ST_RDONLY:
        return f"{path} lies on a disk that can only be read. Copy the folder to another disk."
    me, owner = _name(os.geteuid()), _name(path.stat().st_uid)
    if me == owner:
        return f"{path} is closed to writing. Open it: chmod u+rwX '{path}'"
    return (
        f"{me} may not write in {path}: it belongs to {owner}. Start the journal as {owner}, or "
        f"give the whole folder to {me}: sudo chown -R {me} '{path}'"
    )


def _name(number: int) -> str:
    try:
        return pwd.getpwuid(number).pw_name
    except KeyError:
        return f"user {number}"
