"""An amount beside the outcome: said within one revision, or refused with the reason."""

from __future__ import annotations

import pytest

from journal.domain.classes import GradeBand
from journal.findings.group_findings import find_for_group
from journal.store.engine import Store
from tests.factories.classrooms import Classroom
from tests.factories.group_records import Told, in_band, record_with, told_values


def _amounts(revision: int, amounts: list[float]) -> list[Told]:
    return [Told(value=20 - 2 * amount, amount=amount, revision=revision) for amount in amounts]


def test_an_amount_is_looked_at_within_one_revision(store: Store, classroom: Classroom) -> None:
    """So that the device stays the same; the falling line is the one put in."""
    told = [*_amounts(1, [1, 2]), *_amounts(2, [1, 2, 3, 4, 5, 6, 7])]
    amount = find_for_group(
        in_band(record_with(store, classroom, told), GradeBand.SIX_TO_EIGHT)
    ).amounts[0]
    assert 7 == amount.found.n
    assert -2.0 == amount.found.slope
    assert "Launcher 2" in amount.among
    assert "With more paint, the results go down: 7 trials." == amount.sentences[0]


@pytest.mark.parametrize(
    ("amounts", "expected"),
    [
        ([1, 2, 3], "We cannot say yet: 3 trials with paint, needed 7."),
        ([1, 2, 1, 2, 1, 2, 1, 2], "We cannot say yet: 2 amounts of paint, needed 5."),
    ],
)
def test_few_amounts_are_refused_with_the_reason(
    store: Store, classroom: Classroom, amounts: list[float], expected: str
) -> None:
    """Seven trials and five amounts at least."""
    record = in_band(record_with(store, classroom, _amounts(1, amounts)), GradeBand.SIX_TO_EIGHT)
    amount = find_for_group(record).amounts[0]
    assert (expected,) == amount.sentences


def test_amounts_of_several_revisions_are_said_to_be(store: Store, classroom: Classroom) -> None:
    """Only where no revision alone has enough."""
    told = [*_amounts(1, [1, 2, 3, 4]), *_amounts(2, [5, 6, 7, 8])]
    amount = find_for_group(record_with(store, classroom, told)).amounts[0]
    assert "Over all revisions, so the device changed as well." == amount.among


def test_a_factor_that_is_a_number_is_an_amount(store: Store, classroom: Classroom) -> None:
    """Rail 200 mm at first, then 300 mm: two amounts are too few, which is said."""
    told = [*told_values([1.0, 2, 4, 2], 1), *told_values([4.0, 8, 4, 8], 2)]
    record = in_band(record_with(store, classroom, told), GradeBand.SIX_TO_EIGHT)
    paint, rail = find_for_group(record).amounts
    assert ("Paint", 0) == (paint.name, paint.found.n)
    assert ("Rail length", "mm", 2) == (rail.name, rail.unit, rail.found.distinct)
    assert {200.0, 300.0} == {one.amount for one in rail.records}
    assert ("We cannot say yet: 2 amounts of rail length, needed 5.",) == rail.sentences


def test_many_trials_of_a_factor_wait_until_they_are_asked_for(
    store: Store, classroom: Classroom
) -> None:
    """The page stays quick; worked out at length it is there."""
    told = [*told_values([1.0, 2] * 40, 1), *told_values([4.0, 8] * 40, 2)]
    record = record_with(store, classroom, told)
    assert ["Paint"] == [amount.name for amount in find_for_group(record).amounts]
    with_intervals = find_for_group(record, with_intervals=True).amounts
    assert ["Paint", "Rail length"] == [interval.name for interval in with_intervals]
