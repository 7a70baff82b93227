"""Reading how a trial is measured and what success is."""

from __future__ import annotations

from typing import Any

import pytest

from journal.domain.challenge_documents import read_challenge
from journal.domain.outcomes import DirectionKind
from tests.domain.challenge_samples import problems_of, rolling_cart


@pytest.mark.parametrize(
    ("outcome", "field"),
    [
        ({"lowest": 5, "highest": 5}, "outcome.highest"),
        ({"amount_name": "Water"}, "outcome.amount_unit"),
    ],
)
def test_an_outcome_that_cannot_be_measured_is_refused(outcome: dict[str, Any], field: str) -> None:
    """Bounds hold something between them, and an amount has a unit."""
    document = rolling_cart()
    document["outcome"].update(outcome)
    assert [field] == list(problems_of(document))


def test_a_criterion_is_compared_with_a_known_measure() -> None:
    """Mean, best, reliability, or told by eye."""
    document = rolling_cart()
    document["criteria"][0]["measure"] = "luck"
    assert ["criteria.far.measure"] == list(problems_of(document))


def test_near_needs_its_value() -> None:
    """Near a value is better: the value has to be said."""
    document = rolling_cart()
    document["outcome"]["direction"] = "near"
    assert ["outcome.near"] == list(problems_of(document))
    document["outcome"]["near"] = 500
    direction = read_challenge(document, "mine.toml").outcome.direction
    assert (DirectionKind.NEAR, 500.0) == (direction.kind, direction.near)


def test_reliability_is_told_of_ten() -> None:
    """A threshold of reliability lies from 0 to 10 trials."""
    document = rolling_cart()
    document["criteria"][0].update(measure="reliability", threshold=11)
    assert ["criteria.far.threshold"] == list(problems_of(document))
