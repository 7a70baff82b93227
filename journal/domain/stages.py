"""The six stages of a challenge and what a group writes down at each."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID


class Stage(StrEnum):
    """A stage; groups walk them in any order, back and forth."""

    ASK = "ask"
    IMAGINE = "imagine"
    PLAN = "plan"
    BUILD = "build"
    TEST = "test"
    IMPROVE = "improve"


class NoteKind(StrEnum):
    """A field of a stage page."""

    #: ask: the problem in the group's own words
    PROBLEM = "problem"
    #: ask: a question to find out about
    QUESTION = "question"
    #: imagine: one member's idea
    IDEA = "idea"
    #: plan: which idea, and why
    CHOICE = "choice"
    #: plan: what will change
    CHANGES = "changes"
    #: plan: what stays the same
    STAYS = "stays"
    #: plan: what we think will happen
    PREDICTION = "prediction"
    #: plan: what we need
    MATERIALS = "materials"
    #: improve: what we found
    FOUND = "found"
    #: improve: what we try next
    NEXT = "next"

    @property
    def stage(self) -> Stage:
        """Return the stage whose page holds this field."""
        return _STAGE_OF_NOTE[self]

    @property
    def one_a_member(self) -> bool:
        """Tell whether each member adds one, rather than the group as a whole."""
        return self in {NoteKind.IDEA, NoteKind.QUESTION}


_STAGE_OF_NOTE = {
    NoteKind.PROBLEM: Stage.ASK,
    NoteKind.QUESTION: Stage.ASK,
    NoteKind.IDEA: Stage.IMAGINE,
    NoteKind.CHOICE: Stage.PLAN,
    NoteKind.CHANGES: Stage.PLAN,
    NoteKind.STAYS: Stage.PLAN,
    NoteKind.PREDICTION: Stage.PLAN,
    NoteKind.MATERIALS: Stage.PLAN,
    NoteKind.FOUND: Stage.IMPROVE,
    NoteKind.NEXT: Stage.IMPROVE,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteEntry:
    """What a group enters at a stage: a starter tapped, own words, or both."""

    kind: NoteKind
    starter: str = ""
    words: str = ""
    student_id: UUID | None = None
    #: Who wrote it down for the student, where somebody did: a member's nickname or "teacher".
    scribe: str = ""

    @property
    def text(self) -> str:
        """Return starter and own words as one sentence."""
        return " ".join(part for part in (self.starter.strip(), self.words.strip()) if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """A note as kept: nothing is overwritten, a later note of the kind stands after it."""

    id: UUID
    group_id: UUID
    challenge_id: UUID
    session_id: UUID | None
    kind: NoteKind
    text: str
    student_id: UUID | None
    scribe: str
    logged_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A group's arrival at a stage."""

    stage: Stage
    at: datetime
    session_id: UUID | None = None
