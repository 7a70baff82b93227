"""`journal backup`: copy a whole journal into one file, also while it is in use."""

from __future__ import annotations

from pathlib import Path

import click

from journal.cli.instances import get_settings, instance_option
from journal.cli.locks import hold_journal
from journal.cli.places import find_database_file, require_journal
from journal.cli.sentences import Stop
from journal.domain.settings import Settings
from journal.services.backup_archives import FILES, MB, USUAL_LARGEST_MB
from journal.services.backups import make_backup


@click.command()
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--overwrite", is_flag=True, help="Write over FILE where it is there already.")
@instance_option
def backup(file: Path, instance: Path | None, *, overwrite: bool) -> None:
    """Copy the whole journal into FILE, also while lessons go on.

    The copy is checked before FILE appears; a file that is there already is left alone unless you
    say --overwrite. Guard it as you guard the journal itself: it holds the children's entries.
    """
    settings = get_settings(instance)
    database = database_file(settings)
    require_journal(settings)
    with hold_journal(settings):
        made = make_backup(database, settings.instance / FILES, file, overwrite=overwrite)
    click.echo(f"Copied {made.row_count} rows and {made.file_count} files into {file}.")
    if made.size_bytes > USUAL_LARGEST_MB * MB:
        click.echo(f"A restore of it has to say: --largest-mb {made.size_bytes // MB + 1}")


def database_file(settings: Settings) -> Path:
    """Return the file of the embedded database; stop where the database is another one."""
    file = find_database_file(settings)
    if file is None:
        raise Stop(
            "This command copies the embedded database only. Use the tools of your database "
            "server, such as pg_dump."
        )
    return file
