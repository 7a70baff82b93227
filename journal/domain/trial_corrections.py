"""Corrections of a trial: the wanted values in, the changed trial and each line of it out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from uuid import UUID

from journal.domain.challenges import Challenge
from journal.domain.errors import Invalid, Problem
from journal.domain.groups import Group
from journal.domain.messages import Message
from journal.domain.numbers import show_number
from journal.domain.sentences import clean_words
from journal.domain.trial_fields import fields_of, values_of
from journal.domain.trial_outcomes import check_amount, judge_outcome
from journal.domain.trials import Ending, Trial, TrialKind, TrialState

#: What fits the column that keeps the reason.
LONGEST_REASON = 300


@dataclass(frozen=True, slots=True, kw_only=True)
class CorrectionEntry(Ending):
    """How a trial should be, whole, and why."""

    reason: str
    state: TrialState
    kind: TrialKind
    student_id: UUID | None = None
    amount: float | None = None


#: What can be put right, in the order in which it is told.
CORRECTED = tuple(name for name in fields_of(CorrectionEntry) if name != "reason")
CORRECTED_NUMBERS = tuple(
    name for name, field in fields_of(CorrectionEntry).items() if field.of is float
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangedField:
    """One field of a trial before and after."""

    field: str
    old: str
    new: str


def put_right(
    trial: Trial, entry: CorrectionEntry, challenge: Challenge, group: Group
) -> tuple[Trial, tuple[ChangedField, ...]]:
    """Return the trial as it should be and what changed; raise Invalid."""
    problems = _check(trial, entry, challenge, group)
    changed = replace(trial, student_id=entry.student_id, kind=entry.kind, amount=entry.amount)
    try:
        changed = _with_ending(changed, entry, challenge)
    except Invalid as error:
        problems += error.problems
    if problems:
        raise Invalid.of(problems)
    lines = tuple(
        ChangedField(field=name, old=_text(old), new=_text(new))
        for name in CORRECTED
        if (old := getattr(trial, name)) != (new := getattr(changed, name))
    )
    if not lines:
        raise Invalid.at("reason", Message("trial_corrections.nothing_is_different_yet"))
    return changed, lines


def _check(
    trial: Trial, entry: CorrectionEntry, challenge: Challenge, group: Group
) -> list[Problem]:
    problems = check_amount(challenge.outcome, entry.amount)
    if not clean_words(entry.reason):
        problems.append(Problem("reason", Message("trial_corrections.say_why_in_a_few_words")))
    elif len(entry.reason) > LONGEST_REASON:
        what = Message(
            "trial_corrections.say_why_in_at_most_characters", longest_reason=LONGEST_REASON
        )
        problems.append(Problem("reason", what))
    known = {member.student_id for member in group.members} | {trial.student_id}
    if entry.student_id not in known:
        problems.append(Problem("student_id", Message("trial_corrections.choose_somebody")))
    if entry.state is TrialState.STRUCK and trial.state is not TrialState.STRUCK:
        what = Message("trial_corrections.only_the_group_takes_an_entry_back")
        problems.append(Problem("state", what))
    return problems


def _with_ending(changed: Trial, entry: CorrectionEntry, challenge: Challenge) -> Trial:
    if entry.state in {TrialState.VOID, TrialState.STRUCK}:
        # Set aside as it is: what was measured stays readable.
        return replace(changed, state=entry.state)
    if entry.state is TrialState.MISFIRE:
        ending = Ending(misfire=entry.misfire or "")
    else:
        ending = _ending(changed, entry)
    outcome = judge_outcome(challenge, ending)
    return replace(changed, state=outcome.state, **values_of(outcome, Ending))


def _ending(trial: Trial, entry: CorrectionEntry) -> Ending:
    """Return the new ending: a moved hit gives its zone, a newly named zone forgets the hit."""
    if (entry.x_mm, entry.y_mm) != (trial.x_mm, trial.y_mm) and entry.x_mm is not None:
        return Ending(x_mm=entry.x_mm, y_mm=entry.y_mm)
    if (entry.place, entry.zone) == (trial.place, trial.zone) and trial.x_mm is not None:
        return Ending(x_mm=trial.x_mm, y_mm=trial.y_mm)
    if entry.place is not None:
        return Ending(place=entry.place, zone=entry.zone)
    return Ending(value=entry.value)


def _text(value: object) -> str:
    if isinstance(value, float):
        return show_number(value)
    if isinstance(value, Mapping):
        return ", ".join(f"{key} {chosen}" for key, chosen in value.items())
    return "" if value is None else str(value)
