"""The instance folder as commands use it: settings, the store at the newest shape, one lock."""

from __future__ import annotations

import fcntl
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import click

from journal.cli.sentences import Stop
from journal.domain.settings import Settings, settings_from
from journal.store import migrate
from journal.store.engine import Store

#: Held shared by a running server and alone by a restore.
LOCK_NAME = "in_use.lock"

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


def open_store(settings: Settings) -> Store:
    """Open the store of an instance and bring it to the newest shape."""
    settings.instance.mkdir(parents=True, exist_ok=True)
    store = Store(settings.database_url)
    migrate.upgrade(store.engine)
    return store


@contextmanager
def hold_instance(instance: Path, *, alone: bool) -> Iterator[None]:
    """Hold the instance while a server runs, or alone while its files are exchanged."""
    instance.mkdir(parents=True, exist_ok=True)
    with (instance / LOCK_NAME).open("w") as file:
        try:
            fcntl.flock(file, (fcntl.LOCK_EX if alone else fcntl.LOCK_SH) | fcntl.LOCK_NB)
        except BlockingIOError as error:
            raise Stop(
                f"The journal in {instance} is in use. Stop it first, then try once more."
            ) from error
        yield
