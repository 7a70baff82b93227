"""`journal restore`: put a backup in the place of what is there."""

from __future__ import annotations

from pathlib import Path

import click

from journal.cli.backup import database_file
from journal.cli.demo import SIGN_IN_FILE, put_false_sign_in_away
from journal.cli.instances import get_settings, instance_option, open_store
from journal.cli.locks import hold_journal
from journal.cli.places import require_access, require_journal
from journal.records.work import clock_of_the_machine
from journal.services.backup_archives import FILES, MB, USUAL_LARGEST_MB
from journal.services.restores import restore_backup


@click.command()
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--new", "is_new", is_flag=True, help="Restore where there is no journal yet.")
@click.option(
    "--largest-mb",
    type=click.IntRange(1),
    default=USUAL_LARGEST_MB,
    show_default=True,
    help="How large the backup may grow when it is unpacked.",
)
@instance_option
def restore(file: Path, largest_mb: int, instance: Path | None, *, is_new: bool) -> None:
    """Put the backup FILE in the place of what the journal holds now.

    The journal must be stopped. Nothing is changed unless every file and every row of the backup
    is what a journal can hold; the old state is kept in a folder of its own. Lesson words and
    sign-ins of that day end; passwords are those of that day.
    """
    settings = get_settings(instance)
    database = database_file(settings)
    if not is_new:
        require_journal(settings)
    require_access(settings)
    settings.instance.mkdir(parents=True, exist_ok=True)
    with hold_journal(settings, alone=True):
        restored = restore_backup(
            file,
            database,
            settings.instance / FILES,
            clock_of_the_machine(),
            largest_bytes=largest_mb * MB,
        )
    made = restored.backup
    click.echo(f"Restored {made.row_count} rows and {made.file_count} files.")
    click.echo("Lesson words and sign-ins of that day have ended; passwords are those of that day.")
    if restored.aside is not None:
        click.echo(f"The old state is kept in {restored.aside}.")
    with open_store(settings) as store:
        if put_false_sign_in_away(store, settings.instance):
            click.echo(f"{SIGN_IN_FILE} did not fit the restored journal and was deleted.")
