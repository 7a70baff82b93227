"""An amount beside the outcome: said within one revision, or refused with the reason."""

from __future__ import annotations

import pytest

from journal.domain.classes import GradeBand
from journal.services.findings import find_for_group
from journal.store.engine import Store
from tests.factories.classrooms import Classroom
from tests.factories.group_records import Told, in_band, record_with


def _amounts(revision: int, amounts: list[float]) -> list[Told]:
    return [Told(value=20 - 2 * one, amount=one, revision=revision) for one in amounts]


def test_an_amount_is_looked_at_within_one_revision(store: Store, classroom: Classroom) -> None:
    """So that the device stays the same; the falling line is the one put in."""
    told = [*_amounts(1, [1, 2]), *_amounts(2, [1, 2, 3, 4, 5, 6, 7])]
    amount = find_for_group(
        in_band(record_with(store, classroom, told), GradeBand.SIX_TO_EIGHT)
    ).amount
    assert amount is not None
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
    amount = find_for_group(record).amount
    assert amount is not None
    assert (expected,) == amount.sentences


def test_amounts_of_several_revisions_are_said_to_be(store: Store, classroom: Classroom) -> None:
    """Only where no revision alone has enough."""
    told = [*_amounts(1, [1, 2, 3, 4]), *_amounts(2, [5, 6, 7, 8])]
    amount = find_for_group(record_with(store, classroom, told)).amount
    assert amount is not None
    assert "Over all revisions, so the device changed as well." == amount.among
