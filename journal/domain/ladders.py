"""The ladder of questions for a group that has stalled: its rungs, and when the next one opens."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from uuid import UUID

from journal.domain.sketches import Sketch


class Rung(StrEnum):
    """A rung, from what is happening to what could be tried."""

    NOTICE = "notice"
    COMPARE = "compare"
    EXPLAIN = "explain"
    AIM = "aim"
    CHOOSE_TEST = "choose_test"
    ASK_TEACHER = "ask_teacher"


RUNGS = tuple(Rung)
#: A question is given so long before "Not sure yet" is taken: wait at least 3 s (Rowe 1986).
LEAST_WAIT = timedelta(seconds=3)


class AnswerKind(StrEnum):
    """How a question was answered."""

    WORDS = "words"
    STARTER = "starter"
    SAID = "said"
    #: A drawing and no words.
    SKETCH = "sketch"


class ClimbEnd(StrEnum):
    """How a group left the ladder."""

    KNOWS_WHAT_TO_TRY = "knows_what_to_try"
    TEACHER_CAME = "teacher_came"


class LedTo(StrEnum):
    """What a climb led to."""

    REVISION = "revision"
    HANDLING = "handling"
    SWAP_TEST = "swap_test"
    PRACTICE_SET = "practice_set"


class PassKind(StrEnum):
    """How a rung was left without an answer."""

    #: The group was not sure yet: opens the next rung once a climb, and the teacher sees it.
    NOT_SURE = "not_sure"
    #: The teacher skipped it.
    TEACHER = "teacher"
    #: A new trial opened the next one.
    NEW_TRIAL = "new_trial"
    #: The group knew what to try.
    LEFT = "left"


class BorneOut(StrEnum):
    """Whether a later test bore an answer out, as the group sees it."""

    YES = "yes"
    NO = "no"
    CANNOT_TELL = "cannot_tell"


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerEntry:
    """What a group answers at a rung."""

    rung: Rung
    question: str
    #: In which the question stood on the tablet; "" for the one that is chosen now.
    language: str = ""
    starter: str = ""
    words: str = ""
    #: Strokes as they arrive, the JSON text that `domain.sketches` reads.
    sketch: str = ""
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
    borne_out: BorneOut | None = None
    sketch: Sketch | None = None

    @property
    def says_something(self) -> bool:
        """Tell whether there are words or a sketch: "said to the teacher" alone has neither."""
        return bool(self.text) or self.sketch is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class RungPass:
    """A rung that was left without an answer, with the question as it was put."""

    climb_id: UUID
    rung: Rung
    kind: PassKind
    question: str
    passed_at: datetime


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
    led_to: LedTo | None = None
    answers: tuple[Answer, ...] = ()
    passes: tuple[RungPass, ...] = ()

    @property
    def is_open(self) -> bool:
        """Tell whether the group is still on the ladder."""
        return self.ended_at is None

    @property
    def wants_teacher(self) -> bool:
        """Tell whether the last rung, which calls the teacher, is open."""
        return self.is_open and self.rung is Rung.ASK_TEACHER

    @property
    def was_not_sure(self) -> bool:
        """Tell whether "Not sure yet" was said on this climb."""
        return any(rung_pass.kind is PassKind.NOT_SURE for rung_pass in self.passes)

    def find_answer(self, rung: Rung) -> Answer | None:
        """Return the last answer that says something at a rung."""
        answers = [
            answer for answer in self.answers if answer.rung is rung and answer.says_something
        ]
        return answers[-1] if answers else None


def rung_after(rung: Rung) -> Rung:
    """Return the next rung up; the last one stays."""
    return RUNGS[min(RUNGS.index(rung) + 1, len(RUNGS) - 1)]
