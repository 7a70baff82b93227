"""`journal teacher`: add a teacher, give a new password."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from journal.cli.instances import get_settings, instance_option, open_store
from journal.cli.sentences import Stop
from journal.domain.actors import OPERATOR
from journal.records.work import open_work
from journal.services.teachers import add_teacher, set_password


@click.group()
def teacher() -> None:
    """Add teachers and give new passwords."""


@teacher.command()
@click.argument("name")
@click.option("--shown-name", help="The name on the pages, such as 'Ms Reed'; NAME without it.")
@instance_option
def add(name: str, shown_name: str | None, instance: Path | None) -> None:
    """Add a teacher who signs in as NAME.

    The password is asked for, twice; from a script it is the first line of the standard input.
    """
    with open_store(get_settings(instance)) as store:
        # Asked for before the work is opened: nobody else waits while a person types.
        given = _ask_password()
        with open_work(store, OPERATOR) as work:
            add_teacher(work, name, shown_name or name, given)
    click.echo(f"{name} can sign in now.")


@teacher.command()
@click.argument("name")
@instance_option
def password(name: str, instance: Path | None) -> None:
    """Give the teacher NAME a new password; every sign-in of that teacher ends.

    The password is asked for, twice; from a script it is the first line of the standard input.
    """
    with open_store(get_settings(instance)) as store:
        given = _ask_password()
        with open_work(store, OPERATOR) as work:
            set_password(work, name, given)
    click.echo(f"{name} has a new password.")


def _ask_password() -> str:
    if sys.stdin.isatty():
        return str(click.prompt("Password", hide_input=True, confirmation_prompt=True))
    given = sys.stdin.readline().rstrip("\r\n")
    if not given:
        raise Stop("No password was given. Write it as the first line of the standard input.")
    return given
