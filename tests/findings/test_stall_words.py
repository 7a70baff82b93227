"""Why a group has stalled or needs a visit: never a new best that cannot come."""

from __future__ import annotations

from dataclasses import replace
from uuid import uuid4

import pytest

from journal.analysis.stall import Stall, StallReason
from journal.domain.classes import GradeBand
from journal.domain.group_records import GroupRecord
from journal.domain.needs import Need, NeedKind
from journal.domain.outcomes import LESS_IS_BETTER
from journal.domain.trials import TrialState
from journal.findings.needs import describe_need, need_facts_of
from journal.findings.stalls import find_stall_of, find_top, word_stall
from journal.store.engine import Store
from tests.factories.classrooms import Classroom
from tests.factories.group_records import Told, record_with, told_values

STALLED = Stall(reason=StallReason.NO_NEW_BEST, window=6, looked_at=14, since_best=9)


def need_of(record: GroupRecord, kind: NeedKind, n: int) -> str:
    """Return a reason for a visit."""
    return describe_need(
        need_facts_of(record), Need(group_id=record.group.id, kind=kind, minutes=2, n=n)
    )


@pytest.mark.parametrize("band", list(GradeBand))
def test_at_the_top_there_is_no_new_best(
    store: Store, classroom: Classroom, band: GradeBand
) -> None:
    """The first trial was the best there can be, and so were all others."""
    record = record_with(store, classroom, told_values([8.0] * 12))
    told = word_stall(record, STALLED, band)
    assert "at the top since trial 1" in told.lower()
    assert "new best" not in told
    assert not find_stall_of(record).stalled
    assert need_of(record, NeedKind.STALLED, 11).startswith("At the top since trial 1")


@pytest.mark.parametrize("band", list(GradeBand))
def test_a_top_that_did_not_stay_is_not_called_held(
    store: Store, classroom: Classroom, band: GradeBand
) -> None:
    """8 in trial 2, then ups and downs: neither "at the top" nor "no new best"."""
    record = record_with(store, classroom, told_values([1.0, 8, 1, 2, 8, 1, 1, 2, 1, 1, 2, 1]))
    told = word_stall(record, STALLED, band)
    assert "rial 2" in told
    assert "since trial 2" not in told
    assert "new best" not in told
    below = record_with(store, classroom, told_values([1.0, 4, 1, 2, 4, 1, 1, 2, 1, 1, 2, 1]))
    assert "14 trials" in word_stall(below, STALLED, band)


def test_the_number_is_that_of_the_list_of_trials(store: Store, classroom: Classroom) -> None:
    """A struck trial and a misfire keep their numbers; less can be the top as well."""
    record = record_with(
        store, classroom, [Told(value=1.0), Told(misfire="stuck"), *told_values([8.0] * 5)]
    )
    struck = replace(record.trials[0], id=uuid4(), state=TrialState.STRUCK)
    with_struck = replace(record, trials=(struck, *record.trials))
    top = find_top(with_struck)
    assert top is not None
    assert (4, True) == (top.since, top.is_held)
    challenge = record.context.challenge
    outcome = replace(challenge.outcome, direction=LESS_IS_BETTER)
    context = replace(record.context, challenge=replace(challenge, outcome=outcome))
    low = replace(record_with(store, classroom, told_values([0.0, 0])), context=context)
    top = find_top(low)
    assert top is not None
    assert 1 == top.since


def test_a_reason_counts_what_there_is(store: Store, classroom: Classroom) -> None:
    """Five trials are no "last 9"; no trial since the best is no stall of 0 trials."""
    record = record_with(store, classroom, [Told(misfire="stuck")] * 4 + told_values([1.0]))
    assert "4 misfires in the last 5 trials." == need_of(record, NeedKind.MISFIRES, 4)
    many = record_with(store, classroom, [Told(misfire="stuck")] * 12)
    assert "9 misfires in the last 9 trials." == need_of(many, NeedKind.MISFIRES, 9)
    assert "A question is open for 2 min." == need_of(record, NeedKind.STALLED, 0)
