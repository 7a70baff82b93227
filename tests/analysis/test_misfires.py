"""Misfires of old and new."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import fisher_exact

from journal.analysis.comparisons import compare
from journal.analysis.looks import LIVE_STEPS
from journal.analysis.misfires import MisfireWord, compare_misfires, fisher_p
from journal.analysis.verdicts import Verdict
from tests.analysis.trial_records import trials

COUNT = st.integers(0, 25)


@settings(max_examples=200, deadline=None)
@given(COUNT, COUNT, COUNT, COUNT)
def test_it_is_the_exact_test_of_scipy(a: int, b: int, c: int, d: int) -> None:
    """`scipy.stats.fisher_exact`, two-sided, on any table."""
    assert pytest.approx(fisher_exact([[a, b], [c, d]]).pvalue, abs=1e-9) == fisher_p(a, b, c, d)


def test_what_scores_more_may_misfire_more_often() -> None:
    """Both are found in the same trials, each by its own test."""
    old = trials("A", [1, 2, 3, 2, 1, 2, 3, 2])
    new = trials("B", [8, None, None, 9, None, 8, None, None, 9, 8], start=9)
    found = compare(old, new)
    assert Verdict.MORE == found.verdict
    assert found.misfires is not None
    assert (MisfireWord.MORE, 0, 8, 5, 10) == (
        found.misfires.word,
        found.misfires.old,
        found.misfires.old_n,
        found.misfires.new,
        found.misfires.new_n,
    )
    assert pytest.approx(fisher_exact([[0, 8], [5, 5]]).pvalue) == found.misfires.p_value


def test_a_device_that_hardly_fires_is_looked_at_by_its_trials() -> None:
    """One value in eight trials brings no look at scores, but one at misfires."""
    old = trials("A", [1.0, 2.0, 3.0, 2.0, 1.0, 2.0, 3.0, 2.0])
    new = trials("B", [None, None, None, None, None, None, None, 8.0], start=9)
    found = compare(old, new, steps=LIVE_STEPS)
    assert Verdict.TOO_EARLY == found.verdict
    assert found.misfires is not None
    assert MisfireWord.MORE == found.misfires.word
    early = compare(old, new[:5], steps=LIVE_STEPS)
    assert early.misfires is not None
    assert MisfireWord.NO_CLEAR_DIFFERENCE == early.misfires.word


def test_misfires_need_the_same_conditions_and_students() -> None:
    """At another distance, or by nobody who used both, nothing is compared."""
    far = trials("B", [None] * 9, start=9, distance_mm=3000)
    assert compare(trials("A", [1.0] * 8, distance_mm=2000), far).misfires is None
    strangers = trials("B", [None] * 9, start=9, student="2")
    assert compare_misfires(trials("A", [1.0] * 8, student="1"), strangers) is None


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10**6), st.booleans())
def test_relabelling_students_changes_nothing(seed: int, live: bool) -> None:  # noqa: FBT001
    """Names decide nothing: scores, misfires and verdict stay."""
    draw = random.Random(seed)
    rows = [
        (order, "AB"[order > 16], draw.choice("abc"), draw.choice([None, 1.0, 2.0, 4.0, 8.0]))
        for order in range(1, 33)
    ]
    found = []
    for names in ("abc", "zxy"):
        renamed = dict(zip("abc", names, strict=True))
        sides: dict[str, list] = {"A": [], "B": []}
        for order, revision, student, value in rows:
            sides[revision] += trials(revision, [value], start=order, student=renamed[student])
        found.append(compare(sides["A"], sides["B"], steps=LIVE_STEPS if live else None))
    first, second = found
    assert first.misfires == second.misfires
    for figure in ("verdict", "p_value", "p_unequal", "adjusted_p", "interval", "step"):
        assert getattr(first, figure) == getattr(second, figure)
    assert pytest.approx(first.interval_unequal or ()) == (second.interval_unequal or ())
