"""Dealing students into groups: a list comes in, groups of about four go out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from journal.domain.groups import LEAST_MEMBERS, MOST_MEMBERS

USUAL_MEMBERS = 4
Dealt = TypeVar("Dealt")


def count_groups(students: int) -> int:
    """Return how many groups of 3-5, as near to 4 as can be, hold these students; 0: none do."""
    fewest = -(-students // MOST_MEMBERS)
    most = students // LEAST_MEMBERS
    possible = range(max(fewest, 1), most + 1)
    return min(possible, key=lambda n: (abs(students - n * USUAL_MEMBERS), -n), default=0)


def deal(students: Sequence[Dealt]) -> tuple[tuple[Dealt, ...], ...]:
    """Deal the students in turn, as cards are dealt; no groups where they are fewer than three."""
    groups = count_groups(len(students))
    return tuple(tuple(students[place::groups]) for place in range(groups))
