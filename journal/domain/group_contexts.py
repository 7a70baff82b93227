"""Where a group works now: its class, its challenge, the sessions of the challenge."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from uuid import UUID

from journal.domain.challenges import BandWording, Challenge
from journal.domain.classes import SchoolClass
from journal.domain.groups import Group, Member
from journal.domain.messages import Message
from journal.domain.sessions import Session


@dataclass(frozen=True, kw_only=True)
class GroupContext:
    """A group with all that surrounds its work.

    What is derived is worked out once, when it is first read. It is no part of the value: two
    equal contexts stay equal, and `replace` makes one that works everything out anew.
    """

    group: Group
    school_class: SchoolClass
    challenge: Challenge
    #: Every session of this challenge, in order.
    sessions: tuple[Session, ...]
    #: The class's other challenges that have had a session, the newest first; of one group alone.
    others: tuple[Challenge, ...] = ()
    #: Whether the class's teacher is looking, who goes back to the class.
    for_teacher: bool = False

    @cached_property
    def running(self) -> Session | None:
        """Return the session that is running now."""
        return next((session for session in self.sessions if session.is_running), None)

    @cached_property
    def challenge_id(self) -> UUID:
        """Return the id of the class's copy of the challenge."""
        return challenge_id_of(self.challenge)

    @cached_property
    def wording(self) -> BandWording:
        """Return the challenge's words for the class's band."""
        return self.challenge.wording[self.school_class.band]

    @cached_property
    def session_ids(self) -> tuple[UUID, ...]:
        """Return the ids of the challenge's sessions."""
        return tuple(session.id for session in self.sessions)

    @cached_property
    def members(self) -> tuple[Member, ...]:
        """Return the members who are in the group and, in a running session, not absent."""
        absent = self.running.absent_student_ids if self.running else frozenset()
        here = self.group.present_members
        return tuple(member for member in here if member.student_id not in absent)

    @cached_property
    def waits_for_gate(self) -> bool:
        """Tell whether launching, or loading, waits for the teacher's checklist."""
        running = self.running
        return self.challenge.has_gate and running is not None and running.gate is None


def challenge_id_of(challenge: Challenge) -> UUID:
    """Return the id of a class's copy; a ready challenge of the library has none."""
    if challenge.id is None:
        message = Message("group_contexts.ready_challenge_belongs_to_no_class_yet")
        raise ValueError(message)
    return challenge.id
