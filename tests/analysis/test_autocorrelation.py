"""Autocorrelation of neighbours; the lag-one correlation itself has its published values."""

from __future__ import annotations

import random

import pytest
from statsmodels.tsa.stattools import acf

from journal.analysis.autocorrelation import find_autocorrelation
from journal.analysis.records import TrialRecord
from tests.analysis.trial_records import trials


def in_turn(values: list[float], students: int = 4) -> list[TrialRecord]:
    """Return trials of some students who take turns."""
    return [
        record
        for order, value in enumerate(values, start=1)
        for record in trials("A", [value], student=str(order % students), start=order)
    ]


def test_one_student_has_the_autocorrelation_of_statsmodels() -> None:
    """`statsmodels.tsa.stattools.acf` at lag 1, on 1,000 random cases."""
    draw = random.Random(5)
    for _ in range(1_000):
        values = [draw.gauss(0, 1) for _ in range(draw.randint(3, 30))]
        found = find_autocorrelation(trials("A", values, student="1"))
        assert found is not None
        assert acf(values, nlags=1, fft=False)[1] == pytest.approx(found.lag_one, abs=1e-12)


def test_students_on_different_levels_are_no_likeness() -> None:
    """One student after the other, each on a level of her own: what is left has no run."""
    draw = random.Random(6)
    records = [
        record
        for place, level in enumerate((0.0, 50.0, 100.0))
        for record in trials(
            "A",
            [level + draw.gauss(0, 1) for _ in range(8)],
            student=str(place),
            start=place * 8,
        )
    ]
    found = find_autocorrelation(records)
    assert found is not None
    assert (24, False) == (found.n, found.is_clear)


@pytest.mark.parametrize("trials_in_all", [8, 12, 24])
def test_chance_alone_is_seldom_called_alike(trials_in_all: int) -> None:
    """At most 5 in 100 of 2,000 groups whose results have no order."""
    draw = random.Random(7)
    called = 0
    for _ in range(2_000):
        found = find_autocorrelation(in_turn([draw.gauss(0, 1) for _ in range(trials_in_all)]))
        called += found is not None and found.is_clear
    assert called <= 100


def test_what_drifts_slowly_is_seen() -> None:
    """Each result keeps .8 of what the one before had: called in most groups of 24."""
    draw = random.Random(8)
    called = 0
    for _ in range(200):
        values = [draw.gauss(0, 1)]
        for _ in range(23):
            values.append(0.8 * values[-1] + draw.gauss(0, 0.6))
        found = find_autocorrelation(in_turn(values))
        called += found is not None and found.is_clear
    assert called > 100


def test_what_cannot_be_said_is_none() -> None:
    """No trials, one a student, misfires alone, all results the same."""
    alone = [*trials("A", [3.0], student="1"), *trials("A", [5.0], student="2", start=2)]
    for records in ([], alone, trials("A", [None, None]), trials("A", [0.1] * 6, student="1")):
        assert find_autocorrelation(records) is None


def test_misfires_and_lone_results_are_left_out() -> None:
    """They are no neighbours: what is left stands as if they had not been."""
    plain = trials("A", [1.0, 2.0, 4.0, 3.0], student="1")
    more = [
        *plain[:2],
        *trials("A", [9.0], student="2", start=2),
        *trials("A", [None], student="1", start=2),
        *plain[2:],
    ]
    assert find_autocorrelation(plain) == find_autocorrelation(more)
