"""A class: its grade band, language, and how long its records may be kept."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from uuid import UUID


class GradeBand(StrEnum):
    """The band that decides words and pictures; the numbers are US school grades."""

    TWO = "2"
    THREE_TO_FIVE = "3-5"
    SIX_TO_EIGHT = "6-8"


#: The last day of the school year, and how near it the next year's is proposed (our own choice:
#: in most schools of the northern half the summer begins by then).
YEAR_ENDS = (6, 30)
NEAR_YEAR_END = timedelta(days=30)


def propose_retention(today: date) -> date:
    """Return the end of the school year: the next 30 June, but not one within a month."""
    month, day = YEAR_ENDS
    this_year = date(today.year, month, day)
    return this_year if this_year - today > NEAR_YEAR_END else date(today.year + 1, month, day)


class Door(StrEnum):
    """What happens when a tablet brings the right lesson word."""

    #: The tablet is signed in at once; the teacher can send it out.
    OPEN = "open"
    #: The tablet waits until the teacher lets it in.
    KNOCK = "knock"


@dataclass(frozen=True, slots=True, kw_only=True)
class SchoolClass:
    """One class of one teacher."""

    id: UUID
    school_id: UUID
    teacher_id: UUID
    name: str
    band: GradeBand
    language: str
    retention_date: date
    door: Door = Door.OPEN
    #: Counts every change a class overview could show; an ETag is made from it.
    version: int = 0
    #: Measures the teacher opened (True) or closed (False) against what the band may see, by name.
    measures: tuple[tuple[str, bool], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassEntry:
    """What a teacher enters to make a class."""

    name: str
    band: GradeBand
    language: str
    retention_date: date
