"""Scales, ticks and stacks."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.charts.scales import fit_scale, known_values, least_gap, stack_px

values = st.lists(st.floats(min_value=-1e9, max_value=1e9), min_size=1, max_size=30)


@given(values)
def test_a_scale_holds_every_value_between_round_ticks(sample: list[float]) -> None:
    """Ticks rise, hold the sample, and are not more than a reader takes in."""
    scale = fit_scale(sample, 10, 210)
    slack = 1e-6 * max(1.0, *map(abs, sample))
    assert scale.low - slack <= min(sample)
    assert max(sample) <= scale.high + slack
    assert 2 <= len(scale.ticks) <= 9
    assert all(left < right for left, right in pairwise(scale.ticks))
    assert all(9.99 <= scale.to_px(value) <= 210.01 for value in sample)


@pytest.mark.parametrize(
    ("sample", "ticks"),
    [
        ([0, 10], (0, 2, 4, 6, 8, 10)),
        ([283, 645], (200, 300, 400, 500, 600, 700)),
        ([0.12, 0.31], (0.1, 0.15, 0.2, 0.25, 0.3, 0.35)),
        ([], (0, 0.2, 0.4, 0.6, 0.8, 1)),
    ],
)
def test_ticks_are_ones_twos_and_fives(sample: list[float], ticks: tuple[float, ...]) -> None:
    """Steps are 1, 2 or 5 times a power of ten; common practice, no source."""
    assert fit_scale(sample, 0, 100).ticks == pytest.approx(ticks)


def test_equal_values_have_room_on_both_sides() -> None:
    """One value, or the same many times, lies inside its scale."""
    for sample in ([7.0], [0.0, 0.0], [-3.0] * 5):
        scale = fit_scale(sample, 0, 100)
        assert scale.low < sample[0] < scale.high


def test_tick_texts_have_the_places_they_need() -> None:
    """A minus is a minus sign; a signed scale marks what lies above zero."""
    fine, coarse = fit_scale([0.12, 0.31], 0, 1), fit_scale([-40, 40], 0, 1)
    assert [fine.tick_text(tick) for tick in fine.ticks[:3]] == ["0.1", "0.15", "0.2"]
    assert [coarse.tick_text(tick, signed=True) for tick in coarse.ticks] == [
        "\u221240", "\u221220", "0", "+20", "+40",
    ]  # fmt: skip


def test_only_numbers_that_can_be_drawn_are_known() -> None:
    """None, NaN, infinity and slips of the finger are left out."""
    assert known_values([1.0, None, math.nan, math.inf, -math.inf, 1e300, -2]) == (1.0, -2.0)


@given(st.lists(st.floats(min_value=0, max_value=500), max_size=60))
def test_stacks_lose_no_dot(places: list[float]) -> None:
    """Every dot is in one stack, moved by less than half a dot's width."""
    stacks = stack_px(places, 10)
    assert sum(count for _, count in stacks) == len(places)
    ordered = sorted(places)
    for middle, count in stacks:
        held, ordered = ordered[:count], ordered[count:]
        assert all(abs(place - middle) <= 5 for place in held)


def test_equal_places_stay_where_they_are() -> None:
    """A stack of equal values stands exactly on its value."""
    assert stack_px([30.0, 4.0, 4.0, 4.0], 10) == [(4.0, 3), (30.0, 1)]
    assert least_gap([4, 30, 11]) == 7
    assert least_gap([4]) == math.inf
