"""Backups for the tests of backup and restore: taken, spoiled, looked into."""

import hashlib
import json
import sqlite3
import zipfile
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

from click.testing import CliRunner, Result

from journal.cli.main import main
from journal.domain.actors import OPERATOR
from journal.domain.settings import default_database_url
from journal.records.work import open_work
from journal.services.teachers import add_teacher
from journal.store.engine import Store

PASSWORD = "four words in a row"


def run(*words: str) -> Result:
    """Run a command of the journal."""
    return CliRunner().invoke(main, list(words))


def make_instance(folder: Path) -> Path:
    """Make a journal with the teacher reed and one file."""
    assert 0 == run("database", "new", "--instance", str(folder)).exit_code
    put_teacher(folder, "reed")
    (folder / "files").mkdir()
    (folder / "files" / "sketch.png").write_bytes(b"not really a picture")
    return folder


def put_teacher(instance: Path, name: str) -> None:
    """Add a teacher."""
    store = Store(default_database_url(instance))
    with open_work(store, OPERATOR) as work:
        add_teacher(work, name, name.title(), PASSWORD)
    store.close()


def teachers(instance: Path) -> list[str]:
    """Return who is kept in the database of a folder."""
    with closing(sqlite3.connect(instance / "journal.sqlite3")) as connection:
        found = connection.execute("SELECT sign_in_name FROM teachers ORDER BY 1").fetchall()
    return [name for (name,) in found]


def save(instance: Path, goal: Path) -> Path:
    """Take a backup of the folder."""
    told = run("backup", str(goal), "--instance", str(instance))
    assert 0 == told.exit_code, told.output
    return goal


def read(saved: Path) -> tuple[dict[str, bytes], dict[str, Any]]:
    """Return the files of a backup by name, and its list."""
    with zipfile.ZipFile(saved) as archive:
        content = {name: archive.read(name) for name in archive.namelist()}
    manifest: dict[str, Any] = json.loads(content.pop("manifest.json"))
    return content, manifest


def write(goal: Path, content: dict[str, bytes], manifest: object) -> Path:
    """Write a backup with whatever list is given."""
    with zipfile.ZipFile(goal, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in content.items():
            archive.writestr(name, data)
        archive.writestr("manifest.json", json.dumps(manifest))
    return goal


def write_true(goal: Path, content: dict[str, bytes]) -> Path:
    """Write a backup whose list fits its content, as somebody who means harm would."""
    database = goal.with_suffix(".sqlite3")
    database.write_bytes(content["journal.sqlite3"])
    rows, shape = {}, ""
    with closing(sqlite3.connect(database)) as connection:
        names = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
        for (name,) in names:
            (rows[name],) = connection.execute(f"SELECT count(*) FROM {name}").fetchone()  # noqa: S608
        if "alembic_version" in rows:
            found = connection.execute("SELECT version_num FROM alembic_version").fetchone()
            shape = found[0] if found else ""
    hashes = {name: hashlib.sha256(data).hexdigest() for name, data in content.items()}
    return write(goal, content, {"shape": shape, "rows": rows, "hashes": hashes})


def rework(saved: Path, goal: Path, change: Callable[[sqlite3.Connection], object]) -> Path:
    """Change the database of a backup and write it with a list that fits."""
    content, _ = read(saved)
    database = goal.with_suffix(".reworked")
    database.write_bytes(content["journal.sqlite3"])
    with closing(sqlite3.connect(database)) as connection:
        change(connection)
        connection.commit()
    return write_true(goal, {**content, "journal.sqlite3": database.read_bytes()})
