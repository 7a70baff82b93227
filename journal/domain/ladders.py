"""The ladder of questions for a group that has stalled: its rungs, and when the next one opens."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID


class Rung(StrEnum):
    """A rung, from what is happening to what could be tried."""

    NOTICE = "notice"
    COMPARE = "compare"
    EXPLAIN = "explain"
    AIM = "aim"
    CHOOSE_TEST = "choose_test"
    ASK_TEACHER = "ask_teacher"


RUNGS = tuple(Rung)


class AnswerKind(StrEnum):
    """How a question was answered."""

    WORDS = "words"
    STARTER = "starter"
    SAID = "said"


class ClimbEnd(StrEnum):
    """How a group left the ladder."""

    KNOWS_WHAT_TO_TRY = "knows_what_to_try"
    TEACHER_CAME = "teacher_came"


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerEntry:
    """What a group answers at a rung."""

    rung: Rung
    question: str
    starter: str = ""
    words: str = ""
    said_to_teacher: bool = False
    student_id: UUID | None = None
    scribe: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """An answer as kept, with the question exactly as it was put."""

    id: UUID
    climb_id: UUID
    rung: Rung
    question: str
    kind: AnswerKind
    text: str
    student_id: UUID | None
    scribe: str
    answered_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Climb:
    """One time on the ladder: from being stuck to knowing what to try."""

    id: UUID
    school_id: UUID
    group_id: UUID
    challenge_id: UUID
    started_at: datetime
    #: "asked" when the group tapped "We are stuck", else the key of the stall's reason.
    why: str
    rung: Rung
    #: When the present rung was opened; a trial after it opens the next.
    rung_opened_at: datetime
    ended_at: datetime | None = None
    ended_by: ClimbEnd | None = None
    answers: tuple[Answer, ...] = ()

    @property
    def is_open(self) -> bool:
        """Tell whether the group is still on the ladder."""
        return self.ended_at is None

    @property
    def wants_teacher(self) -> bool:
        """Tell whether the last rung, which calls the teacher, is open."""
        return self.is_open and self.rung is Rung.ASK_TEACHER


def rung_after(rung: Rung) -> Rung:
    """Return the next rung up; the last one stays."""
    return RUNGS[min(RUNGS.index(rung) + 1, len(RUNGS) - 1)]


def next_rung(rung: Rung, *, answered: bool, trials_since: int) -> Rung:
    """Return the rung the group stands on, given what it did since this one opened.

    The next rung opens after an answer or after a new trial, never by itself.
    """
    return rung_after(rung) if answered or trials_since > 0 else rung
