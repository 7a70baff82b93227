"""A small version of STALLS.md: fails if the figures slip by more than chance allows."""

import re

import numpy as np
import pytest

from tests.simulation.stalls import (
    CAPS,
    LINE,
    RESULTS,
    RISING,
    STANDING,
    share_called,
    tell_groups,
    tell_hits,
    tell_stalls,
)

GROUPS = 120
#: Three standard errors of so few groups at a fifth.
CHANCE = 0.11


@pytest.mark.parametrize("name", list(RISING))
@pytest.mark.parametrize("positions", [False, True])
def test_groups_that_get_better_are_hardly_called(name: str, positions: bool) -> None:  # noqa: FBT001
    """By trial 24, zone points and positions."""
    told = tell_groups(RISING[name], 77, GROUPS, positions=positions)
    assert share_called(told, 14, 24) < CAPS[name] + CHANCE


def test_more_and_more_hits_are_hardly_called() -> None:
    """From one in twenty to six in ten."""
    told = tell_hits(0.05 + 0.55 * np.arange(24) / 23, 78, GROUPS)
    assert share_called(told, 14, 24) < CAPS["hit share .05 to .6"] + CHANCE


@pytest.mark.parametrize("name", list(STANDING))
def test_about_half_of_those_who_stand_still_are_called_at_fourteen(name: str) -> None:
    """Whatever their level and scatter."""
    told = tell_groups(STANDING[name], 79, GROUPS, positions=False)
    assert 0.5 == pytest.approx(share_called(told, 1, 14), abs=0.15)
    assert 0.0 == share_called(told, 1, 13)


def test_the_tables_are_those_of_the_report() -> None:
    """A tiny report has the tables of STALLS.md row by row."""
    written = RESULTS.read_text("utf-8").partition(LINE)[2].strip().splitlines()
    assert _without_figures(written) == _without_figures(list(tell_stalls(4)))


def _without_figures(lines: list[str]) -> list[str]:
    return [re.sub(r"\d+(\.\d+)?", "0", line) for line in lines]
