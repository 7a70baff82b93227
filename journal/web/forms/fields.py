"""One field of a form at a time: text comes in, an id, a choice or a number goes out."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from typing import TypeVar
from uuid import UUID

from journal.domain.errors import Invalid, Problem
from journal.domain.messages import Message, Words
from journal.domain.numbers import NoNumber, find_number

_Choice = TypeVar("_Choice", bound=StrEnum)


def find_id(text: str) -> UUID | None:
    """Return the id, or None where the text is empty or no id."""
    try:
        return UUID(text)
    except ValueError:
        return None


def find_ids(texts: Iterable[str]) -> tuple[UUID, ...]:
    """Return the ids among some texts, each once."""
    found = dict.fromkeys(find_id(text) for text in texts)
    return tuple(id_ for id_ in found if id_ is not None)


def read_id(
    text: str, field: str, otherwise: Words = Message("fields.choose_one_of_those_shown")
) -> UUID:
    """Return the id; raise Invalid beside the field where it is none."""
    found = find_id(text)
    if found is None:
        raise Invalid.at(field, otherwise)
    return found


def read_ids(texts: Iterable[str], field: str) -> list[UUID]:
    """Return the ids in their order; raise Invalid beside the field where one is none."""
    return [read_id(text, field) for text in texts]


def read_choice(choices: type[_Choice], text: str, field: str, otherwise: Words) -> _Choice:
    """Return what was chosen; raise Invalid with the sentence `otherwise` where that is none."""
    try:
        return choices(text)
    except ValueError:
        raise Invalid.at(field, otherwise) from None


def read_number(text: str, field: str, problems: list[Problem]) -> float | None:
    """Return the number that a field holds, None for an empty one; what is none is noted."""
    try:
        return find_number(text)
    except NoNumber as error:
        problems.append(Problem(field, error.message))
        return None
