"""`journal restore`: put a backup in the place of what is there."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import click

from journal.cli.backup import database_file
from journal.cli.instances import get_settings, instance_option, open_store
from journal.cli.locks import hold_journal
from journal.cli.places import require_access, require_journal
from journal.services.backups import FILES, aside_folder, restore_backup


@click.command()
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@instance_option
def restore(file: Path, instance: Path | None) -> None:
    """Put the backup FILE in the place of what the journal holds now.

    The journal must be stopped. Nothing is changed unless every file and every table of the
    backup is what its list says; the old state is kept in a folder of its own.
    """
    settings = get_settings(instance)
    aside = aside_folder(settings.instance, datetime.now(UTC))
    database = database_file(settings)
    require_journal(settings)
    require_access(settings)
    with hold_journal(settings, alone=True):
        restored = restore_backup(file, database, settings.instance / FILES, aside)
    # A backup of an older version is brought to the shape of this one.
    with open_store(settings):
        pass
    click.echo(f"Restored {restored.row_count} rows. The old state is kept in {aside}.")
