"""A small version of VERDICTS.md: fails if the figures slip by more than chance allows."""

import re

import pytest

from tests.simulation.verdicts import (
    LINE,
    RESULTS,
    RUNNING,
    SPREAD,
    find_calls,
    measure_spread,
    tell_verdicts,
)


@pytest.mark.parametrize("name", ["old stays at 12", "old stays at 30", "both grow"])
def test_all_looks_together_call_hardly_anything_that_is_not_there(name: str) -> None:
    """At most .05, and three standard errors of so few groups."""
    called = find_calls(RUNNING[name], 55, 150)
    assert float((called > 0).mean()) < 0.05 + 3 * (0.05 * 0.95 / 150) ** 0.5


def test_a_real_gain_is_called() -> None:
    """One standard deviation, both sides growing to 48."""
    assert float((find_calls(RUNNING["both grow, gain of 1 sd"], 56, 40) > 0).mean()) > 0.85


@pytest.mark.parametrize("name", list(SPREAD))
def test_the_interval_for_unequal_scatter_covers(name: str) -> None:
    """At least .91, less three standard errors; the plain one does not with 12 and 4."""
    found = measure_spread(SPREAD[name], 57, 200)
    assert found.unequal_covers > 0.91 - 3 * (0.91 * 0.09 / 200) ** 0.5
    assert found.verdicts < 0.15
    if name.startswith("12 with sd 10, 4"):
        assert found.plain_covers < 0.87


def test_the_tables_are_those_of_the_report() -> None:
    """A tiny report has the tables of VERDICTS.md row by row."""
    written = RESULTS.read_text("utf-8").partition(LINE)[2].strip().splitlines()
    assert _without_figures(written) == _without_figures(list(tell_verdicts(2)))


def _without_figures(lines: list[str]) -> list[str]:
    return [re.sub(r"\d+(\.\d+)?", "0", line) for line in lines]
