"""`journal backup`: save a whole journal into one file, also while it is in use."""

from __future__ import annotations

from pathlib import Path

import click

from journal.cli.instances import get_settings, instance_option
from journal.cli.sentences import Stop
from journal.domain.settings import Settings
from journal.services.backups import FILES, make_backup
from journal.store.engine import Store


@click.command()
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@instance_option
def backup(file: Path, instance: Path | None) -> None:
    """Save the whole journal into FILE, also while lessons go on.

    The copy is checked before FILE appears. Keep it as private as the journal itself: it holds
    the children's entries.
    """
    settings = get_settings(instance)
    made = make_backup(database_file(settings), settings.instance / FILES, file)
    click.echo(f"Saved {made.row_count} rows and {len(made.hashes) - 1} files into {file}.")


def database_file(settings: Settings) -> Path:
    """Return the file of the embedded database; stop where the database is another one."""
    url = Store(settings.database_url).url
    if url.get_backend_name() != "sqlite" or not url.database or url.database == ":memory:":
        raise Stop(
            "This command saves the embedded database only. Use the tools of your database "
            "server, such as pg_dump."
        )
    return Path(url.database)
