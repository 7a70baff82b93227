"""`journal trials`: take trials over from a table."""

from __future__ import annotations

from pathlib import Path

import click

from journal.cli.instances import get_settings, instance_option, open_store
from journal.cli.named_classes import get_named_challenge, get_named_class
from journal.cli.tables import problems_by_row, read_table
from journal.content.trial_words import count_words
from journal.domain.actors import OPERATOR
from journal.domain.group_contexts import challenge_id_of
from journal.exchange.trials import COLUMNS
from journal.records.work import open_work
from journal.services.imports.trials import ImportReport, import_trials

_IMPORT_HELP = f"""Take the trials of FILE, a CSV, over into a class; all of them or none.

Columns: {", ".join(COLUMNS)}. Needed are revision and either value or x_mm with y_mm. Lengths are
in mm from the aim point, x to the right, y up. A label of a revision that the group does not have
makes a new one. Read twice, a table is taken over once.
"""


@click.group()
def trials() -> None:
    """Take trials over from a table."""


@trials.command("import", help=_IMPORT_HELP)
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--class", "class_name", required=True, help="Name of the class.")
@click.option("--challenge", required=True, help="Title of the class's challenge.")
@click.option("--group", "group_name", help="Group of a table that has no column group.")
@click.option("--ignore-unknown", is_flag=True, help="Pass over columns with other names.")
@instance_option
def import_(
    file: Path,
    class_name: str,
    challenge: str,
    group_name: str | None,
    instance: Path | None,
    *,
    ignore_unknown: bool,
) -> None:
    """Import the trials of a CSV file into a class."""
    table = read_table(file, ignore_unknown=ignore_unknown)
    with (
        open_store(get_settings(instance)) as store,
        problems_by_row(file),
        open_work(store, OPERATOR) as work,
    ):
        school_class = get_named_class(work, class_name)
        named = get_named_challenge(work, school_class, challenge)
        report = import_trials(work, school_class.id, challenge_id_of(named), table, group_name)
    click.echo(_describe(report))


def _describe(report: ImportReport) -> str:
    names = ", ".join(report.group_names) or "no group"
    sentence = f"Took over {count_words(report.trial_count, 'trial', 'trials')}"
    made = count_words(report.revision_count, "new revision", "new revisions")
    known = f" {count_words(report.known_count, 'row', 'rows')} had been taken over before."
    return f"{sentence} and {made} for {names}.{known if report.known_count else ''}"
