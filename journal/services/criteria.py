"""Where a group stands with each criterion: met, not met yet, or for the group to tell by eye."""

from __future__ import annotations

import math
from dataclasses import dataclass

from journal.content.finding_words import find_sentence
from journal.domain.challenges import Criterion
from journal.domain.classes import GradeBand
from journal.domain.trials import Trial, TrialState
from journal.services.records import GroupRecord

#: Fewer trials than this meet nothing: a lucky one is no device that works.
LEAST_TRIALS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class CriterionState:
    """A criterion with where the group stands."""

    text: str
    #: None where it is told by eye, or where it is too early.
    is_met: bool | None
    #: In the band's words; "" where there is nothing to say yet.
    sentence: str


def judge_criteria(record: GroupRecord, band: GradeBand) -> tuple[CriterionState, ...]:
    """Hold the main part's newest tested revision against each criterion."""
    trials = _newest_trials(record)
    return tuple(
        _judge(record, criterion, trials, band) for criterion in record.bench.challenge.criteria
    )


def _newest_trials(record: GroupRecord) -> tuple[Trial, ...]:
    main = record.main_part
    for revision in reversed(main.revisions if main else ()):
        trials = record.trials_of(revision.id)
        if trials:
            return trials
    return ()


def _judge(
    record: GroupRecord, criterion: Criterion, trials: tuple[Trial, ...], band: GradeBand
) -> CriterionState:
    value = _value(record, criterion, trials)
    if value is None:
        return CriterionState(text=criterion.text, is_met=None, sentence="")
    merit = criterion.direction.merit
    met = merit(value) >= merit(criterion.threshold)
    sentence = find_sentence(
        "criterion_met" if met else "criterion_not_yet",
        band,
        record.bench.school_class.language,
        value=value,
        unit=criterion.unit,
        threshold=criterion.threshold,
    )
    return CriterionState(text=criterion.text, is_met=met, sentence=sentence or "")


def _value(record: GroupRecord, criterion: Criterion, trials: tuple[Trial, ...]) -> float | None:
    values = [trial.value for trial in trials if trial.value is not None]
    direction = record.bench.challenge.outcome.direction
    if criterion.measure == "best":
        return max(values, key=direction.merit) if values else None
    if len(trials) < LEAST_TRIALS:
        return None
    if criterion.measure == "reliability":
        # Written as "of 10 trials", so that a child can read it.
        went = sum(trial.state is TrialState.MEASURED for trial in trials)
        return 10 * went / len(trials)
    if criterion.measure == "mean":
        return math.fsum(values) / len(values) if values else None
    return None
