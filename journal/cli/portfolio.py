"""`journal portfolio`: print a group's story, or a class's."""

from __future__ import annotations

from pathlib import Path

import click

from journal.cli.instances import get_settings, instance_option, open_store
from journal.cli.named_classes import get_named_class, list_named_groups
from journal.domain.actors import OPERATOR
from journal.domain.groups import Group
from journal.jobs.portfolios import name_file, print_portfolio
from journal.services.portfolios import gather_portfolio
from journal.services.work import open_work


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
        for group in chosen:
            with open_work(store, OPERATOR, writing=False) as work:
                page = gather_portfolio(work, group.id)
            path = _path_for(group, output, alone=group_name is not None)
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(print_portfolio(page))
            click.echo(f"{group.name}: {path}")


def _path_for(group: Group, output: Path, *, alone: bool) -> Path:
    if alone and not output.is_dir():
        return output
    return output / name_file(group.number, group.name)
