"""Handling: the same student with the same device, used in another way."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from journal.analysis.handling import (
    HandlingFinding,
    changed_with_handling,
    contrast_handlings,
    split_handling,
)
from journal.analysis.looks import LIVE_STEPS
from journal.analysis.records import TrialRecord
from journal.analysis.verdicts import PracticeWord, Verdict
from journal.domain.outcomes import LESS_IS_BETTER, MORE_IS_BETTER, near_is_better


def trials(revision: str, student: str, handling: str, *values: float) -> list[TrialRecord]:
    """Return trials of one student with one revision and handling."""
    return [
        TrialRecord(order=1, revision=revision, student=student, handling=handling, value=value)
        for value in values
    ]


def in_this_order(records: list[TrialRecord]) -> list[TrialRecord]:
    """Return the records, one logged after the other."""
    return [replace(record, order=order) for order, record in enumerate(records)]


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
    (found,) = contrast_handlings(records, MORE_IS_BETTER).contrasts
    one = found.comparison
    assert ("", "full", "half", 2) == (found.name, one.old, one.new, found.students)
    assert (5, 5) == (one.old_n, one.new_n)
    assert -10.0 == pytest.approx(one.difference)
    assert (Verdict.LESS, False) == (one.verdict, one.better)
    assert 2 / 120 == pytest.approx(one.p_value)
    assert 2 / 120 == pytest.approx(one.smallest_p)
    (other,) = contrast_handlings(records, LESS_IS_BETTER).contrasts
    assert other.comparison.better is True


def test_the_p_value_is_the_one_of_scipy() -> None:
    """scipy.stats.permutation_test, every deal of one student's 12 trials (924), two-sided."""
    draw = random.Random(5)
    full = [float(draw.choice([1, 2, 4, 8])) for _ in range(6)]
    half = [float(draw.choice([0, 1, 2, 4])) for _ in range(6)]
    records = [*trials("1", "a", "half", *half), *trials("1", "a", "full", *full)]
    (found,) = contrast_handlings(records, MORE_IS_BETTER).contrasts
    expected = stats.permutation_test(
        (half, full),
        lambda old, new, axis: np.abs(np.mean(new, axis=axis) - np.mean(old, axis=axis)),
        alternative="greater",
        n_resamples=np.inf,
        vectorized=True,
    )
    assert expected.pvalue == pytest.approx(found.comparison.p_value)
    assert np.mean(full) - np.mean(half) == pytest.approx(found.comparison.difference)


def test_near_a_value_the_distance_from_it_tells_which_is_better() -> None:
    """38 and 42 are equally near 40: more, but neither better; 30 is farther than 42."""
    records = [*trials("1", "a", "full", *[38] * 6), *trials("1", "a", "half", *[42] * 6)]
    (found,) = contrast_handlings(records, near_is_better(40)).contrasts
    assert (4.0, Verdict.MORE, None) == (
        found.comparison.difference,
        found.comparison.verdict,
        found.comparison.better,
    )
    records = [*trials("1", "a", "full", *[30] * 6), *trials("1", "a", "half", *[42] * 6)]
    (found,) = contrast_handlings(records, near_is_better(40)).contrasts
    assert found.comparison.better is True


def test_handlings_that_nobody_used_both_are_named_and_not_compared() -> None:
    """Different students, different handlings: that says nothing about handling."""
    records = [*trials("1", "a", "full", 40, 41), *trials("1", "b", "half", 30, 31)]
    found = contrast_handlings(records, MORE_IS_BETTER)
    assert (True, ()) == (found.recorded, found.contrasts)
    assert [("", "full", "half")] == [(one.name, one.first, one.second) for one in found.apart]
    nothing = HandlingFinding(recorded=False, contrasts=(), apart=())
    assert nothing == contrast_handlings([], MORE_IS_BETTER)
    assert nothing == contrast_handlings(trials("1", "a", "", 1, 2), MORE_IS_BETTER)


@pytest.mark.parametrize(
    "changed",
    [{"own_part": "Dart 2"}, {"distance_mm": 3000.0}, {"panel": "two_panels"}, {"revision": "2"}],
)
def test_where_more_than_the_handling_differs_nothing_is_compared(
    changed: dict[str, object],
) -> None:
    """Another dart, distance, panel or launcher could have done it as well."""
    half = [replace(one, **changed) for one in trials("1", "a", "half", 1, 2, 3, 4)]  # type: ignore[arg-type]
    found = contrast_handlings([*trials("1", "a", "full", 5, 6, 7, 8), *half], MORE_IS_BETTER)
    assert () == found.contrasts
    assert 1 == len(found.apart)


def test_named_choices_are_looked_at_one_by_one() -> None:
    """Pull is compared at each tilt by itself; the tilts with the pull that both were used with."""
    records = [
        *trials("1", "a", "pull=full; tilt=1", 8, 8, 9),
        *trials("1", "a", "pull=half; tilt=1", 2, 3, 2),
        *trials("1", "a", "pull=half; tilt=2", 5, 5, 5),
    ]
    found = contrast_handlings(records, MORE_IS_BETTER)
    assert [("pull", "full", "half", 3, 3), ("tilt", "1", "2", 3, 3)] == [
        (
            contrast.name,
            contrast.comparison.old,
            contrast.comparison.new,
            contrast.comparison.old_n,
            contrast.comparison.new_n,
        )
        for contrast in found.contrasts
    ]
    # Alone each has 2 of C(6,3) = 20 ways as far out; Holm doubles the smaller of two.
    assert [0.1, 0.1] == pytest.approx(
        [contrast.comparison.p_value for contrast in found.contrasts]
    )
    assert [0.2, 0.2] == pytest.approx(
        [contrast.comparison.adjusted_p for contrast in found.contrasts]
    )
    assert {Verdict.HINT} == {contrast.comparison.verdict for contrast in found.contrasts}


def test_both_changed_together_tells_neither() -> None:
    """Full pull always went with tilt 1 and half pull with tilt 2."""
    records = [
        *trials("1", "a", "pull=full; tilt=1", 8, 8, 9),
        *trials("1", "a", "pull=half; tilt=2", 2, 3, 2),
    ]
    found = contrast_handlings(records, MORE_IS_BETTER)
    assert () == found.contrasts
    assert ["pull", "tilt"] == [one.name for one in found.apart]


def test_turns_rule_practice_out_and_blocks_do_not() -> None:
    """A B B A within one student, and all of one after all of the other."""
    turns = in_this_order(
        [
            *trials("1", "a", "full", 8),
            *trials("1", "a", "half", 2, 3),
            *trials("1", "a", "full", 9, 8),
            *trials("1", "a", "half", 1, 2),
            *trials("1", "a", "full", 9),
        ]
    )
    (found,) = contrast_handlings(turns, MORE_IS_BETTER).contrasts
    # 2 of the 70 ways to deal 4 and 4 are as far out, counted by hand.
    assert (2 / 70, PracticeWord.BALANCED) == (
        pytest.approx(found.comparison.p_value),
        found.comparison.practice,
    )
    blocks = in_this_order(sorted(turns, key=lambda one: one.handling))
    (found,) = contrast_handlings(blocks, MORE_IS_BETTER).contrasts
    assert PracticeWord.NOT_RULED_OUT is found.comparison.practice


def test_while_trials_come_in_the_verdict_rests_on_the_last_look() -> None:
    """With 7 and 7 the look is at 6 of half; with 3 and 3 there is a hint at most."""
    records = in_this_order(
        [
            *trials("1", "a", "full", 8, 9, 8, 9, 8, 9, 0),
            *trials("1", "a", "half", 1, 2, 1, 2, 1, 2, 8),
        ]
    )
    (found,) = contrast_handlings(records, MORE_IS_BETTER, LIVE_STEPS).contrasts
    # The first six of half come after all of full, so the seventh of full is among them.
    assert (7, 6, 6) == (found.comparison.old_n, found.comparison.new_n, found.comparison.step)
    few = [*records[:3], *records[7:10]]
    (found,) = contrast_handlings(few, MORE_IS_BETTER, LIVE_STEPS).contrasts
    assert (None, Verdict.HINT) == (found.comparison.step, found.comparison.verdict)
    (found,) = contrast_handlings(records[5:9], MORE_IS_BETTER, LIVE_STEPS).contrasts
    assert Verdict.TOO_EARLY is found.comparison.verdict


def test_a_step_reached_by_different_students_waits_for_one_who_used_both() -> None:
    """Six and six are there, but up to then nobody had used both."""
    records = in_this_order(
        [
            *trials("1", "a", "full", 8, 9, 8, 9, 8, 9),
            *trials("1", "b", "half", 1, 2, 1, 2, 1, 2),
            *trials("1", "a", "half", 1, 2, 1),
            *trials("1", "b", "full", 8),
        ]
    )
    (found,) = contrast_handlings(records[:-1], MORE_IS_BETTER, LIVE_STEPS).contrasts
    assert (None, Verdict.HINT, 1) == (
        found.comparison.step,
        found.comparison.verdict,
        found.students,
    )
    (found,) = contrast_handlings(records, MORE_IS_BETTER, LIVE_STEPS).contrasts
    assert (6, 2) == (found.comparison.step, found.students)


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
    assert contrast_handlings(records, MORE_IS_BETTER).contrasts == ()
    misfires = [replace(one, misfire="slipped") for one in trials("1", "a", "half", 1, 2)]
    found = contrast_handlings([*trials("1", "a", "full", 40, 41), *misfires], MORE_IS_BETTER)
    assert ((), ()) == (found.contrasts, found.apart)


def test_a_handling_is_read_with_and_without_names() -> None:
    """As a journal writes it, and as a table made by hand has it."""
    assert {"hand": "right", "pull": "full"} == split_handling("hand=right; pull=full")
    assert {"": "half draw"} == split_handling(" half draw ")
    assert {} == split_handling(" ; ")
