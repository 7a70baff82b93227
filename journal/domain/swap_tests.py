"""A swap test: old and new used in turn by the same students, or own parts exchanged in turn.

In: a plan and the trials that took its turns. Out: whose turn is next, and when it is over.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from uuid import UUID

from journal.domain.trials import Trial, TrialKind

#: Trials a student that a plan may have: turns A B B A come in fours.
TRIALS_EACH = (4, 8, 12)
USUAL_TRIALS_EACH = 8


class SwapKind(StrEnum):
    """What is swapped."""

    #: Two revisions of one part.
    REVISIONS = "revisions"
    #: Own parts among their students.
    OWN_PARTS = "own_parts"


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapTurn:
    """One planned trial; the two turns of a student's pair follow each other."""

    #: From 1.
    position: int
    #: From 1, for each student.
    pair: int
    student_id: UUID
    #: What this turn is about; whatever else the trial uses is left to the group.
    revision_id: UUID


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapTest:
    """A swap test as planned and as far as it got."""

    id: UUID
    school_id: UUID
    group_id: UUID
    challenge_id: UUID
    kind: SwapKind
    #: None where own parts are exchanged.
    old_revision_id: UUID | None
    new_revision_id: UUID | None
    turns: tuple[SwapTurn, ...]
    started_at: datetime
    ended_at: datetime | None = None
    #: Trials that took a turn and count, by position; one that is struck or void frees its turn.
    taken: Mapping[int, UUID] = field(default_factory=dict)

    @property
    def done(self) -> int:
        """Return how many turns are taken."""
        return len(self.taken)

    @property
    def is_through(self) -> bool:
        """Tell whether every turn is taken."""
        return self.next_turn is None

    @property
    def is_over(self) -> bool:
        """Tell whether it is through, or was ended before."""
        return self.ended_at is not None or self.is_through

    @property
    def next_turn(self) -> SwapTurn | None:
        """Return the first turn that is not taken."""
        return next((turn for turn in self.turns if turn.position not in self.taken), None)

    @property
    def student_ids(self) -> tuple[UUID, ...]:
        """Return who takes part, in order of the first turns."""
        return tuple(dict.fromkeys(turn.student_id for turn in self.turns))

    def next_turn_of(self, student_id: UUID) -> SwapTurn | None:
        """Return the student's own first turn that is not taken."""
        return next(
            (
                turn
                for turn in self.turns
                if turn.student_id == student_id and turn.position not in self.taken
            ),
            None,
        )

    def find_turn_for(self, trial: Trial) -> SwapTurn | None:
        """Return the turn that a trial takes, None where it is none of the plan.

        It must be the student's own next one: pairs lie within a student, so two students may
        change places, but nobody may skip a device. Counted attempts are no part of it.
        """
        if trial.student_id is None or trial.kind is not TrialKind.PRACTICE:
            return None
        turn = self.next_turn_of(trial.student_id)
        return turn if turn is not None and turn.revision_id in trial.revision_ids else None
