"""Level and scatter over the last trials, and the other signs of a stall."""

from collections.abc import Sequence

import numpy as np
import pytest
from scipy import stats
from statsmodels.api import OLS

from journal.analysis.records import TrialRecord
from journal.analysis.stall_signals import count_returns, goes_back_and_forth
from journal.analysis.stall_trend import WINDOW, CourseTrial, find_look, find_trend
from tests.analysis.trial_records import trials


def _course(values: Sequence[float], cells: Sequence[object] = ()) -> list[CourseTrial]:
    return [
        CourseTrial(value, cell)
        for value, cell in zip(values, cells or [""] * len(values), strict=True)
    ]


def test_the_slope_is_that_of_least_squares() -> None:
    """Slope over residual scatter as scipy's linear regression gives them."""
    values = np.random.default_rng(2).normal(size=14).cumsum().tolist()
    line = stats.linregress(range(14), values)
    residual = np.array(values) - line.intercept - line.slope * np.arange(14)
    expected = line.slope / np.sqrt((residual**2).sum() / 12)
    found = find_trend(_course(values))
    assert found is not None
    assert pytest.approx(expected, rel=1e-9) == found.slope


def test_with_children_it_is_the_slope_of_statsmodels() -> None:
    """`OLS` with a level for each child, and one slope for all."""
    draw = np.random.default_rng(3)
    children = [int(child) for child in draw.integers(0, 3, 14)]
    values = [float(3 * child + 0.1 * at + draw.normal()) for at, child in enumerate(children)]
    levels = np.equal.outer(children, sorted(set(children))).astype(float)
    fitted = OLS(values, np.column_stack([np.arange(14), levels])).fit()
    found = find_trend(_course(values, children))
    assert found is not None
    assert pytest.approx(fitted.params[0] / np.sqrt(fitted.scale), rel=1e-9) == found.slope


def test_thirteen_trials_are_too_few() -> None:
    """There is no trend before the first look."""
    assert find_trend(_course([1.0] * 13)) is None


def test_looks_are_few_and_the_last_one_stands() -> None:
    """At 14, 26 and 38 trials."""
    values = np.random.default_rng(4).normal(size=40).tolist()
    looks = {n: find_look(values[:n]) for n in (13, 14, 25, 26, 37, 38)}
    assert {13: None, 14: 14, 25: 14, 26: 26, 37: 26, 38: 38} == looks


def test_only_the_last_trials_count() -> None:
    """What lies before the window changes nothing."""
    values = np.random.default_rng(4).normal(size=WINDOW).tolist()
    before = [float(at) for at in range(26 - WINDOW)]
    first, second = (find_trend(_course([*sign(before), *values])) for sign in (_plain, _turned))
    assert first == second


def _plain(values: list[float]) -> list[float]:
    return values


def _turned(values: list[float]) -> list[float]:
    return [-value for value in values]


@pytest.mark.parametrize(("step", "flat"), [(0.0, True), (1e-3, False), (-1e-3, True)])
def test_values_without_scatter_are_judged_by_their_line(step: float, flat: bool) -> None:  # noqa: FBT001
    """All alike is flat, climbing evenly is not, however little."""
    trend = find_trend(_course([5 + step * at for at in range(14)]))
    assert trend is not None
    assert flat is trend.is_flat


def test_a_scatter_that_halved_is_progress() -> None:
    """The level stands, but hits lie much closer together."""
    calm = [10.0, -10.0, 9.0, -9.0, 11.0, -11.0, 10.0, -2.0, 2.0, -2.0, 2.0, -2.0, 2.0, -2.0]
    trend = find_trend(_course(calm))
    assert trend is not None
    assert trend.slope <= trend.bound
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
