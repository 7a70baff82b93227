"""`journal`: the command that holds all others."""

from __future__ import annotations

import os

import click

from journal import __version__
from journal.cli.sentences import JournalCommands

#: Each is a module of this room with a command of the same name, loaded when it is asked for: a
#: table of trials is looked at without the pages, the paper and the demo.
COMMANDS = (
    "serve",
    "demo",
    "teacher",
    "database",
    "backup",
    "restore",
    "trials",
    "findings",
    "diagnose",
    "portfolio",
    "agreement",
)


@click.group(
    cls=JournalCommands,
    names=COMMANDS,
    context_settings={"help_option_names": ["-h", "--help"]},
)
@click.version_option(__version__, prog_name="journal")
def main() -> None:
    """Design Iteration Journal: a class builds, tests and improves a device, and keeps its story.

    Start with `journal serve --demo`: it opens the journal for every tablet in the room, with a
    class made up for trying it out.
    """
    # What is written here are children's entries: for the owner's eyes only.
    os.umask(0o077)
