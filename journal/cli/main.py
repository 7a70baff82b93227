"""`journal`: the command that holds all others."""

from __future__ import annotations

import os

import click

from journal import __version__
from journal.cli.agreement import agreement
from journal.cli.backup import backup
from journal.cli.database import database
from journal.cli.demo import demo
from journal.cli.findings import findings
from journal.cli.portfolio import portfolio
from journal.cli.restore import restore
from journal.cli.sentences import JournalCommands
from journal.cli.serve import serve
from journal.cli.teacher import teacher
from journal.cli.trials import trials


@click.group(cls=JournalCommands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="journal")
def main() -> None:
    """Design Iteration Journal: a class builds, tests and improves a device, and keeps its story.

    Start with `journal serve --demo`: it opens the journal for every tablet in the room, with a
    class made up for trying it out.
    """
    # What is written here are children's entries: for the owner's eyes only.
    os.umask(0o077)


for _command in (
    serve,
    demo,
    teacher,
    database,
    backup,
    restore,
    trials,
    findings,
    portfolio,
    agreement,
):
    main.add_command(_command)
