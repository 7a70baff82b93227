"""A small version of the table of swap tests in SWAPS.md: fails if the figures slip."""

from __future__ import annotations

from tests.simulation.swaps import measure_swaps


def test_all_looks_of_a_swap_test_call_hardly_anything_that_is_not_there() -> None:
    """At most .05, and three standard errors of so few groups."""
    assert measure_swaps(0.0, 12, 61, 60).called < 0.05 + 3 * (0.05 * 0.95 / 60) ** 0.5


def test_a_gain_is_called_and_shortens_the_test() -> None:
    """One standard deviation in twelve trials a student; four trials find it seldom."""
    whole = measure_swaps(1.0, 12, 62, 60)
    assert whole.called > 0.88 - 3 * (0.88 * 0.12 / 60) ** 0.5
    assert whole.length < 0.9 * 12
    assert measure_swaps(1.0, 4, 63, 60).called < 0.6
