"""Handling: the same student with the same revision, used in another way."""

from __future__ import annotations

import pytest

from journal.analysis.handling import changed_with_handling, contrast_handlings
from journal.analysis.records import TrialRecord
from journal.domain.outcomes import LESS_IS_BETTER, MORE_IS_BETTER, near_is_better


def trials(revision: str, student: str, handling: str, *values: float) -> list[TrialRecord]:
    """Return trials of one student with one revision and handling."""
    return [
        TrialRecord(order=1, revision=revision, student=student, handling=handling, value=value)
        for value in values
    ]


def test_two_handlings_are_compared_within_student_and_revision() -> None:
    """Half pull loses 10 with each student, though the students differ by far more.

    Dealt out anew within each student there are C(6,3) x C(4,2) = 120 ways, and this one and its
    mirror image are the farthest out: p = 2/120.
    """
    records = [
        *trials("1", "a", "full", 40, 41, 42),
        *trials("1", "a", "half", 30, 31, 32),
        *trials("1", "b", "full", 90, 91),
        *trials("1", "b", "half", 80, 81),
    ]
    (found,) = contrast_handlings(records, MORE_IS_BETTER)
    assert (found.first, found.second) == ("full", "half")
    assert (found.first_count, found.second_count) == (5, 5)
    assert found.difference == pytest.approx(-10.0)
    assert found.second_is_better is False
    assert found.p_value == pytest.approx(2 / 120)
    assert found.smallest_p == pytest.approx(2 / 120)
    (other,) = contrast_handlings(records, LESS_IS_BETTER)
    assert other.second_is_better is True


def test_near_a_value_the_distance_from_it_is_compared() -> None:
    """38 and 42 are equally near 40; neither handling is better."""
    records = [*trials("1", "a", "full", 38, 38), *trials("1", "a", "half", 42, 42)]
    (found,) = contrast_handlings(records, near_is_better(40))
    assert found.difference == 0.0
    assert found.second_is_better is None


def test_handlings_that_nobody_used_both_are_not_compared() -> None:
    """Different students, different handlings: that says nothing about handling."""
    records = [*trials("1", "a", "full", 40, 41), *trials("1", "b", "half", 30, 31)]
    assert contrast_handlings(records, MORE_IS_BETTER) == ()
    assert contrast_handlings([], MORE_IS_BETTER) == ()


def test_a_change_of_handling_that_came_with_a_revision_is_found() -> None:
    """Revision 2 was only ever used with half pull, revision 1 only with full pull."""
    records = [
        *trials("1", "a", "full", 1),
        *trials("2", "a", "half", 2),
        *trials("3", "a", "half", 2),
    ]
    assert changed_with_handling(records) == (("1", "2"),)


def test_trials_of_unknown_students_and_misfires_say_nothing_of_handling() -> None:
    """Nobody is compared with themselves there."""
    records = [*trials("1", "", "full", 40, 41), *trials("1", "", "half", 30, 31)]
    assert contrast_handlings(records, MORE_IS_BETTER) == ()
