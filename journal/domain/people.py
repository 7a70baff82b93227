"""School, teacher, student: as little about each as the work allows."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID


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
    #: Left the class; the entries stay under "former member" once the record is purged.
    left: bool = False
