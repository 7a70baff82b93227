"""`journal database`: bring the database to the newest shape."""

from __future__ import annotations

from pathlib import Path

import click

from journal.cli.instances import get_settings, instance_option, open_store
from journal.store import migrate


@click.group()
def database() -> None:
    """Look after the database."""


@database.command()
@instance_option
def upgrade(instance: Path | None) -> None:
    """Bring the database to the shape this version works with; nothing that is kept is lost.

    `journal serve` does this by itself at each start.
    """
    store = open_store(get_settings(instance))
    revision = migrate.find_revision(store.engine)
    store.close()
    click.echo(f"The database is at the newest shape ({revision}).")
