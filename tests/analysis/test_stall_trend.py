"""Level and scatter over the last trials, and the other signs of a stall."""

import numpy as np
import pytest
from scipy import stats

from journal.analysis.records import TrialRecord
from journal.analysis.stall_signals import count_returns, goes_back_and_forth
from journal.analysis.stall_trend import WINDOW, find_trend
from tests.analysis.trial_records import trials


def test_the_slope_is_that_of_least_squares() -> None:
    """Slope over residual scatter as scipy's linear regression gives them."""
    values = np.random.default_rng(2).normal(size=15).cumsum().tolist()
    line = stats.linregress(range(15), values)
    residual = np.array(values) - line.intercept - line.slope * np.arange(15)
    expected = line.slope / np.sqrt((residual**2).sum() / 13)
    found = find_trend(values)
    assert found is not None
    assert pytest.approx(expected, rel=1e-9) == found.slope


def test_nine_trials_are_too_few() -> None:
    """There is no trend before the first look."""
    assert find_trend([1.0] * 9) is None


def test_only_the_last_trials_count() -> None:
    """What lies before the window changes nothing."""
    values = np.random.default_rng(4).normal(size=WINDOW).tolist()
    first, second = find_trend([50.0] * 9 + values), find_trend([-50.0] * 9 + values)
    assert first == second


@pytest.mark.parametrize(("step", "flat"), [(0.0, True), (1e-3, False), (-1e-3, True)])
def test_values_without_scatter_are_judged_by_their_line(step: float, flat: bool) -> None:  # noqa: FBT001
    """All alike is flat, climbing evenly is not, however little."""
    trend = find_trend([5 + step * at for at in range(12)])
    assert trend is not None
    assert flat is trend.is_flat


def test_a_scatter_that_halved_is_progress() -> None:
    """The level stands, but hits lie much closer together."""
    calm = [10.0, -10.0] * 5 + [2.0, -2.0] * 5
    trend = find_trend(calm)
    assert trend is not None
    assert trend.slope < trend.bound
    assert not trend.is_flat


def _used(revisions: str) -> list[TrialRecord]:
    return [
        record
        for order, name in enumerate(revisions, start=1)
        for record in trials(name, [1.0], start=order)
    ]


@pytest.mark.parametrize(
    ("revisions", "returns"), [("", 0), ("AABBCC", 0), ("AABBA", 1), ("ABABA", 3), ("ABCBA", 2)]
)
def test_returns_to_a_revision_left_before_are_counted(revisions: str, returns: int) -> None:
    """Each change to one used before counts once; two of them are back and forth."""
    assert returns == count_returns(_used(revisions))
    assert (returns >= 2) is goes_back_and_forth(_used(revisions))
