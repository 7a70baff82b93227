"""School, teacher, student, with as little personal data as possible."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from uuid import UUID

LONGEST_SIGN_IN_NAME = 60
#: A letter may be sent as several signs; what is longer still is no name, and is not read whole.
_MOST_SENT = 4 * LONGEST_SIGN_IN_NAME


def normalise_sign_in_name(typed: str) -> str:
    """Return the one spelling of a sign-in name, by which it is kept, found and counted.

    Compatible letters and capitals are the same here (Unicode, NFKC and full case folding; once
    more afterwards, because folding can undo the first). What is too long stays too long; what no
    keyboard sends is nobody's name.
    """
    plain = typed[:_MOST_SENT]
    for _ in range(2):
        plain = unicodedata.normalize("NFKC", plain).casefold()
    plain = unicodedata.normalize("NFKC", plain).strip()
    return plain[: LONGEST_SIGN_IN_NAME + 1] if plain.isprintable() else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class School:
    """A school."""

    id: UUID
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Teacher:
    """A teacher, known by a sign-in name."""

    id: UUID
    school_id: UUID
    sign_in_name: str
    shown_name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Student:
    """A student, known by a nickname or a number only."""

    id: UUID
    class_id: UUID
    nickname: str
    #: Left the class; the entries stay.
    left: bool = False
