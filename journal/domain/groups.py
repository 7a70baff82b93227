"""A group of 3-5 students and who belonged to it when."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

LEAST_MEMBERS = 3
MOST_MEMBERS = 5
#: Who stands beside an entry of somebody whose name the group does not have any more.
FORMER_MEMBER = "former member"


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """A student's time in a group; `left_at` is None while it lasts."""

    student_id: UUID
    nickname: str
    joined_at: datetime
    left_at: datetime | None = None

    @property
    def is_here(self) -> bool:
        """Tell whether the student belongs to the group now."""
        return self.left_at is None


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """A group, known by name, number and pattern."""

    id: UUID
    school_id: UUID
    class_id: UUID
    number: int
    name: str
    members: tuple[Member, ...] = ()
    #: Of the questions on the ladder; None for the language of the class.
    question_language: str | None = None

    @property
    def present_members(self) -> tuple[Member, ...]:
        """Return those who belong to the group now, in order of joining."""
        return tuple(member for member in self.members if member.is_here)

    def name_of(self, student_id: UUID) -> str:
        """Return the nickname of somebody who is or was in the group."""
        names = {member.student_id: member.nickname for member in self.members}
        return names.get(student_id, FORMER_MEMBER)

    @property
    def strokes(self) -> dict[UUID, int]:
        """Return the strokes of each member's mark, 1 to 5; nobody's change when somebody leaves.

        Whoever joins gets the lowest number that no present member had then.
        """
        given: dict[UUID, int] = {}
        for index, member in enumerate(self.members):
            taken = {
                given[earlier.student_id]
                for earlier in self.members[:index]
                if earlier.left_at is None or earlier.left_at > member.joined_at
            }
            free = (number for number in range(1, MOST_MEMBERS + 1) if number not in taken)
            usual = given.get(member.student_id)
            if usual is None or usual in taken:
                given[member.student_id] = next(free, index % MOST_MEMBERS + 1)
        return given

    def has(self, student_id: UUID) -> bool:
        """Tell whether the student belongs to the group now."""
        return any(member.student_id == student_id for member in self.present_members)
