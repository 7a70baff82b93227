"""Whether a group has stalled, with the reason in the band's words."""

from __future__ import annotations

from dataclasses import dataclass

from journal.analysis.failures import work_out
from journal.analysis.stall import Stall, StallContext, StallReason, find_stall
from journal.analysis.stall_signals import count_returns, goes_back_and_forth
from journal.content.finding_words import find_sentence
from journal.domain.classes import GradeBand
from journal.domain.group_records import GroupRecord
from journal.domain.ladders import AnswerKind
from journal.domain.trials import TrialState
from journal.findings.criteria import judge_criteria
from journal.findings.revision_numbers import scale_of
from journal.findings.trial_records import records_of

_STALL_SENTENCES = {
    StallReason.NO_NEW_BEST: "no_new_best",
    StallReason.NO_NEW_BEST_IN_REVISIONS: "no_new_best_revisions",
    StallReason.UNRELIABLE: "reliability",
    StallReason.SAME_ANSWER: "same_answer",
}


def find_stall_of(record: GroupRecord) -> Stall:
    """Tell whether the group has stalled, by its main part."""
    unknown = Stall(reason=StallReason.NOT_WORKED_OUT, window=0)
    return work_out("the stall", lambda: _find_stall_of(record), unknown)


def _find_stall_of(record: GroupRecord) -> Stall:
    if record.main_part is None:
        return Stall(reason=StallReason.TOO_EARLY, window=0)
    context = record.context
    answers = [
        answer
        for climb in record.climbs[-1:]
        for answer in climb.answers
        if answer.kind is not AnswerKind.SAID
    ]
    last_two = [(answer.text, answer.sketch) for answer in answers[-2:]]
    criteria = judge_criteria(record, context.school_class.band)
    measured = [state.is_met for state in criteria if state.is_met is not None]
    records = records_of(record, record.main_part)
    last_climb = record.climbs[-1] if record.climbs else None
    return find_stall(
        records,
        StallContext(
            band=context.school_class.band,
            direction=context.challenge.outcome.direction,
            destructive=context.challenge.is_destructive,
            criterion_met=bool(measured) and all(measured),
            top_value=_top_value(record),
            same_answer_twice=len(last_two) == 2 and last_two[0] == last_two[1],  # noqa: PLR2004 - twice
            called_at=None
            if last_climb is None
            else sum(trial.received_at <= last_climb.started_at for trial in record.usable_trials),
        ),
    )


def count_returns_of(record: GroupRecord) -> int:
    """Count how often the group keeps returning to a revision it had left; 0 below two times.

    The trials of swap tests are left out: there, changing back is the plan.
    """
    if record.main_part is None:
        return 0
    planned = {trial_id for test in record.swap_tests for trial_id in test.taken.values()}
    usable = record.usable_trials
    free = [
        trial_record
        for trial_record in records_of(record, record.main_part)
        if usable[trial_record.order].id not in planned
    ]
    return count_returns(free) if goes_back_and_forth(free) else 0


def trials_without_better(record: GroupRecord) -> int:
    """Count the trials after the first one that was as good as the best so far."""
    direction = record.context.challenge.outcome.direction
    merits = [
        direction.merit(trial.value) if trial.value is not None else None
        for trial in record.usable_trials
    ]
    known = [merit for merit in merits if merit is not None]
    return len(merits) - 1 - merits.index(max(known)) if known else len(merits)


@dataclass(frozen=True, slots=True, kw_only=True)
class TopReached:
    """The best result there can be was had."""

    #: The number of the first trial with it, as the list of every trial has it.
    since: int
    #: Every result since then is the best there can be.
    is_held: bool


def find_top(record: GroupRecord) -> TopReached | None:
    """Return since when the best result there can be was had; None where it was not."""
    direction, top = record.context.challenge.outcome.direction, _top_value(record)
    merits = [
        (number, direction.merit(trial.value))
        for number, trial in enumerate(record.trials, start=1)
        if trial.state is TrialState.MEASURED and trial.value is not None
    ]
    at_top = [number for number, merit in merits if merit >= direction.merit(top)]
    if not at_top:
        return None
    since = [number for number, _ in merits if number >= at_top[0]]
    return TopReached(since=at_top[0], is_held=len(since) == len(at_top))


def word_stall(record: GroupRecord, stall: Stall, band: GradeBand) -> str:
    """Return why the group has stalled, in the band's words; "" where it has not."""
    if not stall.stalled:
        return ""
    n = stall.since_best
    if stall.reason is StallReason.UNRELIABLE:
        n = stall.window
    elif stall.reason is StallReason.NO_NEW_BEST:
        n = stall.looked_at
    key = _STALL_SENTENCES[stall.reason]
    top = find_top(record) if key.startswith("no_new_best") else None
    if top is not None:
        # A new best cannot come any more.
        return word_top(record, top, band)
    language = record.language
    return find_sentence(key, band, language, n=n, misfires=stall.misfires) or ""


def word_top(record: GroupRecord, top: TopReached, band: GradeBand) -> str:
    """Say since when the group is at the top, or that it was there and did not stay."""
    key = "at_the_top" if top.is_held else "top_not_held"
    return find_sentence(key, band, record.language, since=top.since) or ""


def _top_value(record: GroupRecord) -> float:
    """Return the best result that there can be at all."""
    challenge = record.context.challenge
    outcome = challenge.outcome
    if outcome.direction.near is not None:
        return outcome.direction.near
    ends = scale_of(challenge) or (outcome.lowest, outcome.highest)
    return max(ends, key=outcome.direction.merit)
