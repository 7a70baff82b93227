"""From an answer to a test: the next revision filled in, a swap test, or a practice set.

Comes in: what the group said on the ladder. Goes out: the form, or the plan, that follows from it.
"""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from journal.domain.ladders import AnswerEntry, LedTo
from journal.domain.practice_sets import read_trials
from journal.domain.stages import NoteEntry, NoteKind
from journal.records.group_contexts import get_group_context
from journal.records.work import Work
from journal.services.ladders import answer_rung, leave_ladder
from journal.services.open_questions import OpenQuestion
from journal.services.practice_sets import plan_practice
from journal.services.stages import keep_note


@dataclass(frozen=True, slots=True, kw_only=True)
class StepEntry:
    """What follows from the ladder: where to, with what prediction, how much practice."""

    led_to: LedTo
    prediction_starter: str = ""
    prediction: str = ""
    trials: str = ""


def take_step(
    work: Work,
    group_id: UUID,
    entry: AnswerEntry,
    step: StepEntry,
    question: OpenQuestion | None = None,
) -> None:
    """Keep the answer and the prediction, leave the ladder, and plan what was chosen.

    Raises Invalid for an answer that says nothing and for a number of trials that is none.
    """
    size = read_trials(step.trials) if step.led_to is LedTo.PRACTICE_SET else 0
    answer_rung(work, group_id, entry, step.led_to, question)
    _follow(work, group_id, step, size, entry.scribe)


def leave_for(
    work: Work, group_id: UUID, step: StepEntry, question: OpenQuestion | None = None
) -> None:
    """Leave the ladder at any rung for what the group knows to try."""
    size = read_trials(step.trials) if step.led_to is LedTo.PRACTICE_SET else 0
    leave_ladder(work, group_id, step.led_to, question)
    _follow(work, group_id, step, size, "")


def _follow(work: Work, group_id: UUID, step: StepEntry, size: int, scribe: str) -> None:
    if step.prediction.strip() or step.prediction_starter.strip():
        note = NoteEntry(
            kind=NoteKind.PREDICTION,
            starter=step.prediction_starter,
            words=step.prediction,
            scribe=scribe,
        )
        keep_note(work, group_id, note)
    if step.led_to is LedTo.PRACTICE_SET:
        plan_practice(work, get_group_context(work, group_id), size)
