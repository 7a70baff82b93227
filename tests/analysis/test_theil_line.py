"""Theil's line, against SciPy."""

import random

import pytest
from scipy.stats import theilslopes

from journal.analysis.theil_line import theil_line, theil_slope


def test_line_is_that_of_scipy() -> None:
    """`scipy.stats.theilslopes(method="joint")` on 1,000 random cases with repeated x."""
    draw = random.Random(3)
    for _ in range(1_000):
        points = [(float(draw.randint(1, 9)), draw.gauss(0, 5)) for _ in range(10)]
        expected = theilslopes([y for _, y in points], [x for x, _ in points], method="joint")
        line = theil_line(points)
        assert pytest.approx(expected.slope) == line[0] if line else False
        assert pytest.approx(expected.intercept) == line[1] if line else False


def test_slopes_are_taken_within_each_set_only() -> None:
    """Two rising students stay rising, though the second starts far below the first."""
    assert 2.0 == theil_slope([[(1, 100), (2, 102)], [(3, 1), (4, 3)]])


def test_one_x_has_no_slope() -> None:
    """A slope needs two different places."""
    assert theil_line([(1.0, 2.0), (1.0, 3.0)]) is None
    assert theil_slope([]) is None


def test_very_many_points_take_the_short_way() -> None:
    """With 3,000 points only half-way pairs are joined; a straight line is still found."""
    assert pytest.approx(0.5) == theil_slope([[(float(x), 0.5 * x) for x in range(3_000)]])
