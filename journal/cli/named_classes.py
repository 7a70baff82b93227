"""Classes, groups and challenges as a person at the terminal names them: names in, values out."""

from __future__ import annotations

from journal.cli.sentences import Stop
from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.groups import Group
from journal.records.work import Work
from journal.store import challenges, classes, groups


def get_named_class(work: Work, name: str | None) -> SchoolClass:
    """Return the class with this name, or the only one where none is named."""
    known = classes.all_classes(work.session)
    found = [
        school_class
        for school_class in known
        if name is None or school_class.name.casefold() == name.casefold()
    ]
    if len(found) == 1:
        return found[0]
    names = ", ".join(school_class.name for school_class in known)
    if not known:
        raise Stop("There is no class yet. A teacher makes one first.")
    if name is None:
        raise Stop(f"Say which class it is, with --class. There are: {names}.")
    if found:
        raise Stop(f'More than one class is called "{name}". Give one of them another name first.')
    raise Stop(f'There is no class "{name}". There are: {names}.')


def list_named_groups(work: Work, school_class: SchoolClass, name: str | None) -> tuple[Group, ...]:
    """Return the group with this name, or all where none is named."""
    known = groups.groups_of_class(work.session, school_class.id)
    if not known:
        raise Stop(f"There is no group in {school_class.name} yet.")
    found = tuple(
        group for group in known if name is None or group.name.casefold() == name.casefold()
    )
    if not found:
        names = ", ".join(group.name for group in known)
        raise Stop(f'There is no group "{name}" in {school_class.name}. There are: {names}.')
    return found


def get_named_challenge(work: Work, school_class: SchoolClass, name: str) -> Challenge:
    """Return the class's challenge with this title or key; of several, the one opened last."""
    known = challenges.challenges_of_class(work.session, school_class.id)
    for challenge in known:
        if name.casefold() in {challenge.title.casefold(), challenge.key.casefold()}:
            return challenge
    names = ", ".join(challenge.title for challenge in known) or "none yet"
    raise Stop(f'There is no challenge "{name}" in {school_class.name}. There are: {names}.')
