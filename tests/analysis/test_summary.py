"""One set of trials in figures."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.analysis.summary import summarise, summarise_trials, wilson_interval
from tests.analysis.trial_records import MEASURES, trials


def test_striking_value_is_shown_with_and_without() -> None:
    """A striking value stays in the figures; beside them stand the figures without it."""
    summary = summarise([4.0, 5.0, 5.0, 6.0, 6.0, 40.0])
    assert (40.0,) == summary.striking
    assert 11.0 == summary.mean
    assert summary.without_striking is not None
    assert 5.2 == summary.without_striking.mean


def test_no_trials_say_nothing() -> None:
    """An empty set has no mean and no rate."""
    summary = summarise_trials([])
    assert 0 == summary.n
    assert summary.mean is None
    assert summary.misfire_rate is None
    assert summary.misfire_interval is None


@given(st.lists(MEASURES, min_size=1, max_size=12), st.integers(1, 5))
def test_a_misfire_changes_no_mean(values: list[float], misfires: int) -> None:
    """Accuracy leaves misfires out, reliability counts them."""
    plain = summarise_trials(trials("A", values))
    with_misfires = summarise_trials(trials("A", [*values, *[None] * misfires]))
    for figure in ("n", "mean", "median", "sd", "mad", "lower_quartile", "range"):
        assert getattr(plain, figure) == getattr(with_misfires, figure)
    assert misfires / (len(values) + misfires) == with_misfires.misfire_rate


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_counts_as_no_value(bad: float) -> None:
    """NaN and infinity never reach a figure."""
    summary = summarise_trials(trials("A", [1.0, bad, 3.0]))
    assert 2 == summary.n
    assert 2.0 == summary.mean
    assert 1 == summary.without_value


def test_a_value_logged_with_a_misfire_does_not_count() -> None:
    """A misfire that landed somewhere is still a misfire."""
    misfire = replace(trials("A", [9.0])[0], misfire="slipped")
    records = [*trials("A", [1.0]), misfire]
    assert 1.0 == summarise_trials(records).mean


@given(st.integers(0, 40), st.integers(1, 40))
def test_interval_of_a_rate_holds_the_rate(count: int, n: int) -> None:
    """The interval stays between 0 and 1 and holds the share seen."""
    interval = wilson_interval(min(count, n), n)
    assert interval is not None
    assert 0.0 <= interval[0] <= min(count, n) / n <= interval[1] <= 1.0
