"""Where a group stands with each criterion: met, not met yet, or for the group to judge by eye."""

from __future__ import annotations

import math
from dataclasses import dataclass

from journal.content.bands import which_measures
from journal.content.finding_words import find_sentence, show_figure
from journal.domain.challenges import Criterion
from journal.domain.classes import GradeBand
from journal.domain.group_records import GroupRecord
from journal.domain.outcomes import DirectionKind
from journal.domain.trials import Trial, TrialState

#: Fewer trials than this meet nothing: a lucky one is no device that works.
LEAST_TRIALS = 3
#: Reliability is asked for as so many of this many trials.
_OF_TRIALS = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class CriterionState:
    """A criterion with where the group stands."""

    text: str
    #: None where it is judged by eye, or where it is too early.
    is_met: bool | None
    #: In the band's words; "" where there is nothing to say yet.
    sentence: str


def judge_criteria(record: GroupRecord, band: GradeBand) -> tuple[CriterionState, ...]:
    """Hold the main part's newest tested revision against each criterion."""
    trials = _newest_trials(record)
    return tuple(
        _judge(record, criterion, trials, band) for criterion in record.context.challenge.criteria
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
    key, slots = _describe_reached(criterion, trials, value, band)
    sentence = find_sentence(
        f"criterion_{'met' if met else 'not_yet'}{key}",
        band,
        record.language,
        **slots,
    )
    return CriterionState(text=criterion.text, is_met=met, sentence=sentence or "")


def _value(record: GroupRecord, criterion: Criterion, trials: tuple[Trial, ...]) -> float | None:
    values = _values(trials)
    direction = record.context.challenge.outcome.direction
    if criterion.measure == "best":
        return max(values, key=direction.merit) if values else None
    if len(trials) < LEAST_TRIALS:
        return None
    if criterion.measure == "reliability":
        # Written as "of 10 trials", so that a child can read it.
        return _OF_TRIALS * _count_went(trials) / len(trials)
    if criterion.measure == "mean":
        return math.fsum(values) / len(values) if values else None
    return None


def _values(trials: tuple[Trial, ...]) -> list[float]:
    return [trial.value for trial in trials if trial.value is not None]


def _count_went(trials: tuple[Trial, ...]) -> int:
    return sum(trial.state is TrialState.MEASURED for trial in trials)


def _describe_reached(
    criterion: Criterion, trials: tuple[Trial, ...], value: float, band: GradeBand
) -> tuple[str, dict[str, object]]:
    """Return what was reached beside what is asked: the end of the sentence's key, and its slots.

    Below grade 6 a mean is put as what all trials come to together.
    """
    asked, near = criterion.threshold, criterion.direction.near
    slots: dict[str, object] = {"unit": criterion.unit, "asked": show_figure(asked, band)}
    if criterion.measure == "reliability":
        counts = {"went": _count_went(trials), "n": len(trials), "of": _OF_TRIALS}
        return f"_went{_bound(criterion)}", slots | counts
    if near is not None:
        away = abs(value - near)
        within = abs(asked - near)
        return "_near", slots | {
            "near": show_figure(near, band),
            "value": show_beside(away, within, band),
            "asked": show_figure(within, band),
        }
    if criterion.measure == "mean" and not which_measures(band).show_mean:
        count = len(_values(trials))
        return f"_sum{_bound(criterion)}", slots | {
            "value": show_beside(math.fsum(_values(trials)), asked * count, band),
            "n": count,
            "asked": show_figure(asked * count, band),
        }
    mean = "_mean" if criterion.measure == "mean" else ""
    return f"{mean}{_bound(criterion)}", slots | {"value": show_beside(value, asked, band)}


def _bound(criterion: Criterion) -> str:
    """Tell whether the threshold is the most that may be; else it is the least."""
    return "_at_most" if criterion.direction.kind is DirectionKind.LESS else ""


def show_beside(value: float, asked: float, band: GradeBand) -> str:
    """Return a figure beside the one it is held against: never the same text for another number."""
    shown = show_figure(value, band)
    if value == asked or shown.removeprefix("about ") != show_figure(asked, band).removeprefix(
        "about "
    ):
        return shown
    return f"just {'under' if value < asked else 'over'} {show_figure(asked, band)}"
