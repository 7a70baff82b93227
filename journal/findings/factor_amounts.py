"""Factors that are numbers, such as a length, beside the outcome: one amount a changed factor."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from functools import lru_cache

from journal.analysis.amounts import AmountFinding, find_amount
from journal.analysis.records import TrialRecord
from journal.content.teacher_words import word_for_teacher
from journal.domain.challenges import Factor
from journal.domain.factor_values import current_value
from journal.domain.group_records import GroupRecord
from journal.domain.numbers import NoNumber, read_number
from journal.domain.outcomes import Direction
from journal.domain.part_states import PartState
from journal.findings.amounts import Amount, AmountWords, word_amount
from journal.findings.trial_records import label_revision
from journal.findings.voices import Voice

#: Comparing bands of more trials than this takes seconds: then only on demand.
MOST_AT_ONCE = 120


def find_factor_amounts(
    record: GroupRecord, records: tuple[TrialRecord, ...], voice: Voice, *, with_intervals: bool
) -> tuple[AmountWords, ...]:
    """Set each factor of the main part that was changed, and is a number, against the outcome."""
    main, outcome = record.main_part, record.context.challenge.outcome
    if main is None:
        return ()
    among = word_for_teacher("factor_over_revisions", voice.language, part=main.kind.name.lower())
    measured = [trial_record for trial_record in records if trial_record.measured is not None]
    tested = {trial_record.revision for trial_record in measured}
    found = []
    for factor in main.kind.factors:
        amounts = _amounts_of(main, factor)
        several = len({amounts[label] for label in tested & amounts.keys()}) > 1
        if not several or (len(measured) > MOST_AT_ONCE and not with_intervals):
            continue
        own = tuple(
            replace(trial_record, amount=amounts[trial_record.revision])
            for trial_record in measured
            if trial_record.revision in amounts
        )
        amount = Amount(name=factor.name, unit=factor.unit)
        finding = _found(own, outcome.direction)
        found.append(word_amount(amount, finding, own, outcome, voice, among))
    return tuple(found)


@lru_cache(maxsize=128)
def _found(records: tuple[TrialRecord, ...], direction: Direction) -> AmountFinding:
    return find_amount(records, direction)


def _amounts_of(state: PartState, factor: Factor) -> dict[str, float]:
    """Return the factor's value at each revision where it is a number."""
    if factor.choices:
        return {}
    amounts = {}
    for revision in state.revisions:
        value = current_value(factor.key, revision, state.revisions, state.kind)
        with suppress(NoNumber):
            amounts[label_revision(state, revision)] = read_number(value)
    return amounts
