"""Who is acting: a teacher, a tablet of a group, a board, or nobody yet."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID


class Role(StrEnum):
    """What a sign-in is for."""

    TEACHER = "teacher"
    TABLET = "tablet"
    #: What the projector shows: it reads one page of one class while a session runs.
    BOARD = "board"
    #: The terminal of the machine the journal runs on, and the demo.
    OPERATOR = "operator"
    NOBODY = "nobody"


class TabletState(StrEnum):
    """Where a tablet stands at the door."""

    WAITING = "waiting"
    IN = "in"
    OUT = "out"


@dataclass(frozen=True, slots=True, kw_only=True)
class Actor:
    """The one on whose behalf a service works."""

    role: Role
    school_id: UUID | None = None
    teacher_id: UUID | None = None
    class_id: UUID | None = None
    group_id: UUID | None = None
    #: The child who tapped in on this tablet; each entry names its own.
    student_id: UUID | None = None
    sign_in_id: UUID | None = None
    tablet_state: TabletState | None = None
    #: When the child who tapped in here left the group; the tablet is out since then, but for
    #: what it had kept before.
    left_at: datetime | None = None


NOBODY = Actor(role=Role.NOBODY)
OPERATOR = Actor(role=Role.OPERATOR)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tablet:
    """A tablet signed in for a group, as the teacher sees it at the door."""

    sign_in_id: UUID
    group_id: UUID
    student_id: UUID | None
    state: TabletState
    signed_in_at: datetime
    last_seen_at: datetime
