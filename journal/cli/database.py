"""`journal database`: begin a new one, bring it to the newest shape."""

from __future__ import annotations

from pathlib import Path

import click

from journal.cli.instances import get_settings, instance_option, open_store
from journal.cli.places import find_database_file
from journal.cli.sentences import Stop
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
    with open_store(get_settings(instance)) as store:
        revision = migrate.find_revision(store.engine)
    click.echo(f"The database is at the newest shape ({revision}).")


@database.command()
@instance_option
def new(instance: Path | None) -> None:
    """Begin a new, empty journal in the instance folder; one that is there stays as it is.

    Then add a teacher with `journal teacher add`, and open it with `journal serve`.
    """
    settings = get_settings(instance)
    file = find_database_file(settings)
    if file is not None and file.exists():
        raise Stop(
            f"There is a journal in {file.absolute().parent} already; it was left as it is. For "
            "another one name another folder: --instance DIR"
        )
    with open_store(settings, may_make=True):
        place = settings.instance.absolute()
    click.echo(f"A new, empty journal is in {place}. Next: journal teacher add NAME")
