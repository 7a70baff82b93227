"""The one word for a comparison."""

import random

import pytest
from statsmodels.stats.multitest import multipletests

from journal.analysis.verdicts import Verdict, holm, judge


def test_holm_is_that_of_statsmodels() -> None:
    """`multipletests(method="holm")` on random sets of p-values (it is slow: a dozen)."""
    draw = random.Random(7)
    for _ in range(12):
        p_values = [draw.random() ** 3 for _ in range(draw.randint(1, 8))]
        expected = multipletests(p_values, method="holm")[1]
        assert pytest.approx(list(expected)) == holm(p_values)


def test_no_p_values_need_no_adjustment() -> None:
    """Where nothing was tested nothing is adjusted."""
    assert [] == holm([])


@pytest.mark.parametrize(
    ("difference", "p_value", "smallest", "verdict"),
    [
        (5.0, 0.10, 0.10, Verdict.HINT),
        (5.0, 0.05, 0.05, Verdict.MORE),
        (-5.0, 0.01, 0.001, Verdict.LESS),
        (5.0, 0.0501, 0.001, Verdict.NO_CLEAR_DIFFERENCE),
    ],
)
def test_words_are_tried_in_order(
    difference: float, p_value: float, smallest: float, verdict: Verdict
) -> None:
    """A hint where nothing could be clear; then more, less, or no clear difference."""
    assert verdict == judge(difference, p_value, smallest)
