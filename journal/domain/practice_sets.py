"""A practice set, so many practice trials before the next step: trials in, a count out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.domain.numbers import NoNumber, read_whole
from journal.domain.trials import Trial, TrialKind

#: Sizes that a group may choose (our own choice), and what a teacher may set at most.
SIZES = (6, 12, 18)
MOST_TRIALS = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeSet:
    """Practice trials that a group, or its teacher, planned."""

    id: UUID
    school_id: UUID
    group_id: UUID
    challenge_id: UUID
    trials: int
    started_at: datetime
    #: Set by the teacher: nothing counts before it is through.
    by_teacher: bool = False

    def count_done(self, trials: Iterable[Trial]) -> int:
        """Return how many of the planned trials are in."""
        done = sum(
            trial.kind is TrialKind.PRACTICE
            and trial.state.is_usable
            and trial.received_at >= self.started_at
            for trial in trials
        )
        return min(done, self.trials)


def read_trials(text: str, field: str = "trials") -> int:
    """Return a number of practice trials as written; raise Invalid beside the field."""
    try:
        trials = read_whole(text)
    except NoNumber as error:
        raise Invalid.at(field, error.message) from error
    if not 1 <= trials <= MOST_TRIALS:
        what = Message("practice_sets.no_number_of_trials", trials=trials, most_trials=MOST_TRIALS)
        raise Invalid.at(field, what)
    return trials
