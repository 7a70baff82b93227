"""`journal portfolio`: print a group's story, or a class's."""

from __future__ import annotations

from pathlib import Path

import click

from journal.analysis.failures import note_failure
from journal.cli.instances import get_settings, instance_option, open_store
from journal.cli.named_classes import get_named_class, list_named_groups
from journal.cli.sentences import Stop
from journal.content.messages import word_error
from journal.domain.actors import OPERATOR
from journal.domain.errors import JournalError, NotKept
from journal.domain.groups import Group
from journal.jobs.portfolios import name_file, print_portfolio
from journal.portfolio.gathering import gather_portfolio
from journal.records.work import open_work
from journal.store.engine import Store


@click.command()
@click.option("--class", "class_name", help="Name of the class; not needed where there is one.")
@click.option("--group", "group_name", help="Name of one group; all of them without it.")
@click.option(
    "-o",
    "--output",
    required=True,
    type=click.Path(path_type=Path),
    help="A PDF for one group, else a folder.",
)
@instance_option
def portfolio(
    class_name: str | None, group_name: str | None, output: Path, instance: Path | None
) -> None:
    """Print the portfolio of a group as PDF, or those of all groups of a class into a folder."""
    with open_store(get_settings(instance)) as store:
        with open_work(store, OPERATOR, writing=False) as work:
            school_class = get_named_class(work, class_name)
            chosen = list_named_groups(work, school_class, group_name)
        missing = 0
        for group in chosen:
            try:
                printed = _print(store, group)
            except NotPrinted as error:
                missing += 1
                click.echo(f"{group.name}: not printed, because {error}", err=True)
                continue
            path = _path_for(group, output, alone=group_name is not None)
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(printed)
            click.echo(f"{group.name}: {path}")
    if missing:
        raise Stop(f"{missing} of {len(chosen)} not printed.")


class NotPrinted(Exception):
    """Why the portfolio of one group could not be made; the others can."""


def _print(store: Store, group: Group) -> bytes:
    try:
        with open_work(store, OPERATOR, writing=False) as work:
            page = gather_portfolio(work, group.id)
        return print_portfolio(page)
    except NotKept:
        # The database is at fault, not this group.
        raise
    except JournalError as error:
        raise NotPrinted(word_error(error)) from error
    except Exception as error:
        # A fault of the journal: it is logged with the places in the code.
        note_failure("a portfolio", error)
        raise NotPrinted(f"drawing or printing it failed with {type(error).__name__}.") from error


def _path_for(group: Group, output: Path, *, alone: bool) -> Path:
    if alone and not output.is_dir():
        return output
    return output / name_file(group.number, group.name)
