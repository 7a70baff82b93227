"""`journal demo`: classes made up for trying the journal out."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

import click

from journal.cli.instances import get_settings, instance_option, open_store
from journal.cli.sentences import Stop
from journal.domain.actors import OPERATOR
from journal.domain.errors import Invalid
from journal.records.work import open_work
from journal.services.demo.classes import fill_demo
from journal.services.lesson_words import make_lesson_word
from journal.services.teachers import prove_teacher
from journal.store import classes
from journal.store.engine import Store
from journal.store.people import find_school, find_teacher_by_name

SIGN_IN_FILE = "demo_sign_in.txt"
SIGN_IN_NAME = "demo"
_PASSWORD_BYTES = 9


@click.command()
@instance_option
def demo(instance: Path | None) -> None:
    """Fill an empty journal with two demo classes: darts in grade 5, paper bridges in grade 7.

    A journal that holds anything already is left as it is. The teacher's sign-in is random and
    stands in demo_sign_in.txt of the instance folder, readable for its owner only.
    """
    settings = get_settings(instance)
    with open_store(settings, may_make=True) as store:
        filled = fill_demo_once(store, settings.instance)
    if not filled:
        raise Stop("This journal is not empty, so no demo was made.")
    click.echo(f"The demo classes are there. {describe_sign_in(settings.instance)}")


def fill_demo_once(store: Store, instance: Path) -> bool:
    """Fill an empty journal with the demo classes; tell whether it was empty."""
    with store.open_session(writing=False) as session:
        if find_school(session) is not None:
            return False
    password = secrets.token_urlsafe(_PASSWORD_BYTES)
    # Kept first: whoever stops the machine half-way can still sign in and look.
    _keep_sign_in(instance / SIGN_IN_FILE, password)
    fill_demo(store, sign_in_name=SIGN_IN_NAME, password=password)
    return True


def renew_demo_word(store: Store) -> None:
    """Give each class of the demo teacher a lesson word where none is in force."""
    with open_work(store, OPERATOR) as work:
        found = find_teacher_by_name(work.session, SIGN_IN_NAME)
        for school_class in classes.classes_of_teacher(work.session, found[0].id) if found else ():
            if classes.find_word(work.session, school_class.id, work.now()) is None:
                make_lesson_word(work, school_class.id)


def describe_sign_in(instance: Path) -> str:
    """Return one sentence with the demo teacher's sign-in, or an empty one where there is none."""
    path = instance / SIGN_IN_FILE
    if not path.exists():
        return ""
    return f"Teacher's demo sign-in: {' '.join(path.read_text(encoding='utf-8').split())}"


def put_false_sign_in_away(store: Store, instance: Path) -> bool:
    """Delete the file with the demo's sign-in where it no longer opens the journal; tell whether.

    A restored journal may come from another machine, or from a day with another password.
    """
    path = instance / SIGN_IN_FILE
    if not path.exists():
        return False
    words = path.read_text(encoding="utf-8").split()
    given = dict(zip(words[::2], words[1::2], strict=False))
    with open_work(store, OPERATOR, writing=False) as work:
        try:
            prove_teacher(work, given.get("name", ""), given.get("password", ""))
        except Invalid:
            path.unlink()
            return True
    return False


def _keep_sign_in(path: Path, password: str) -> None:
    path.unlink(missing_ok=True)
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "w", encoding="utf-8") as file:
        file.write(f"name {SIGN_IN_NAME}\npassword {password}\n")
