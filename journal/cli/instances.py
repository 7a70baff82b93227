"""The instance folder as commands use it: settings, and the store at the newest shape."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import click
import sqlalchemy as sa

from journal.cli.locks import Hold, hold_journal
from journal.cli.places import require_access, require_journal
from journal.cli.sentences import Stop
from journal.domain.settings import Settings, settings_from
from journal.store import migrate
from journal.store.engine import Store

instance_option = click.option(
    "--instance",
    type=click.Path(file_okay=False, path_type=Path),
    help="Folder of everything the journal keeps (instead of JOURNAL_INSTANCE).",
)


def get_settings(instance: Path | None = None, **given: object) -> Settings:
    """Read the settings; what was given on the command line stands above the environment."""
    environ = dict(os.environ)
    for name, value in {"instance": instance, **given}.items():
        if value is not None:
            environ[f"JOURNAL_{name.upper()}"] = str(value)
    return settings_from(environ)


@contextmanager
def open_store(settings: Settings, *, may_make: bool = False) -> Iterator[Store]:
    """Open the store of a journal and bring it to the newest shape; it is held until the end.

    A folder without a journal is left as it is unless the command `may_make` one.
    """
    if not may_make:
        require_journal(settings)
    require_access(settings)
    settings.instance.mkdir(parents=True, exist_ok=True)
    with hold_journal(settings) as hold:
        store = Store(settings.database_url)
        try:
            _bring_to_newest(store, hold)
            yield store
        finally:
            store.close()


def _bring_to_newest(store: Store, hold: Hold) -> None:
    """Upgrade the database where that is needed, and then only while nobody else works on it."""
    if _find_shape(store) == migrate.newest_revision():
        return
    hold.take_alone()
    # Another command may have done it while this one waited.
    if _find_shape(store) != migrate.newest_revision():
        migrate.upgrade(store.engine)
    hold.share()


def _find_shape(store: Store) -> str | None:
    """Return the revision that the database is at, None for an empty one; stop at a foreign one."""
    shape = migrate.find_revision(store.engine)
    if shape is None and sa.inspect(store.engine).get_table_names():
        raise Stop(
            f"{_name(store)} holds the tables of another program, so nothing was changed. Look at "
            "JOURNAL_DATABASE_URL and JOURNAL_INSTANCE."
        )
    if shape is not None and shape not in migrate.known_revisions():
        raise Stop(
            f"{_name(store)} comes from a newer version of the journal (shape {shape}, this one "
            f"knows {migrate.newest_revision()}). Install the newer version; nothing was changed."
        )
    return shape


def _name(store: Store) -> str:
    # Without the name and password that the address of a server carries.
    return f"The database {store.url.database}"
