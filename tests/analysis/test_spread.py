"""Spread of hits: laws that must hold, a known scatter, words, and bad input."""

from __future__ import annotations

import random
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.analysis.spread import Side, Spread, Tightness, describe_cluster, spread_of

places = st.floats(-1000, 1000).map(lambda value: round(value, 1))
hits_lists = st.lists(st.tuples(places, places), min_size=2, max_size=30)


def get_spread(hits: list[tuple[float, float]]) -> Spread:
    """Return the spread of hits that have one."""
    spread = spread_of(hits)
    assert spread is not None
    return spread


@given(hits=hits_lists, move=st.tuples(places, places))
def test_moving_all_hits_moves_offset_and_not_scatter(
    hits: list[tuple[float, float]], move: tuple[float, float]
) -> None:
    """The middle goes along with the hits; their distances to each other stay."""
    before = get_spread(hits)
    after = get_spread([(x + move[0], y + move[1]) for x, y in hits])
    assert after.offset_x_mm == pytest.approx(before.offset_x_mm + move[0], abs=1e-9)
    assert after.offset_y_mm == pytest.approx(before.offset_y_mm + move[1], abs=1e-9)
    assert after.scatter_mm == pytest.approx(before.scatter_mm, rel=1e-6, abs=1e-6)


@given(hits=hits_lists, factor=st.floats(0.1, 10))
def test_scaling_all_hits_scales_offset_and_scatter(
    hits: list[tuple[float, float]], factor: float
) -> None:
    """Twice as far from the aim point is twice the offset and twice the scatter."""
    before = get_spread(hits)
    after = get_spread([(x * factor, y * factor) for x, y in hits])
    assert after.offset_mm == pytest.approx(before.offset_mm * factor, rel=1e-9, abs=1e-9)
    assert before.scatter_mm is not None
    assert after.scatter_mm == pytest.approx(before.scatter_mm * factor, rel=1e-6, abs=1e-6)


def test_scatter_is_unbiased_and_its_interval_holds() -> None:
    """Over many groups of five hits the mean scatter is the true one, 95 % of intervals hold it.

    Tolerances are three standard errors of the simulation.
    """
    draw = random.Random(5)
    found, held, runs = 0.0, 0, 4000
    for _ in range(runs):
        spread = get_spread([(draw.gauss(30, 90), draw.gauss(0, 90)) for _ in range(5)])
        assert spread.scatter_mm is not None
        assert spread.scatter_interval_mm is not None
        found += spread.scatter_mm
        low, high = spread.scatter_interval_mm
        held += low <= 90 <= high
    assert found / runs == pytest.approx(90, abs=3 * 90 * 0.0643**0.5 / runs**0.5)
    assert held / runs == pytest.approx(0.95, abs=3 * (0.95 * 0.05 / runs) ** 0.5)


def test_one_hit_has_an_offset_and_no_scatter() -> None:
    """With a single hit only the middle can be said, and no words are chosen."""
    spread = get_spread([(30.0, -40.0)])
    assert spread.offset_mm == 50.0
    assert spread.scatter_mm is None
    assert spread.half_radius_interval_mm is None
    assert describe_cluster(spread).sides == ()


@pytest.mark.parametrize("hits", [[], [(nan, 1.0)], [(inf, 0.0)], [(1e200, 0.0), (-1e200, 1.0)]])
def test_nothing_usable_has_no_spread(hits: list[tuple[float, float]]) -> None:
    """No hits, and hits that are no places, have no spread; nothing is raised."""
    assert spread_of(hits) is None


def test_hits_that_are_no_places_are_left_out() -> None:
    """One broken coordinate does not spoil the others."""
    assert spread_of([(10.0, 0.0), (nan, 3.0), (20.0, 0.0)]) == spread_of(
        [(10.0, 0.0), (20.0, 0.0)]
    )


def test_a_tight_cluster_low_and_left_is_called_that() -> None:
    """Hits close together, below and left of the aim point, get these words."""
    hits = [
        (-150.0, -140.0),
        (-170.0, -150.0),
        (-160.0, -170.0),
        (-140.0, -160.0),
        (-155.0, -150.0),
    ]
    words = describe_cluster(get_spread(hits), half_side_mm=300.0)
    assert words.tightness is Tightness.TIGHT
    assert words.sides == (Side.LOW, Side.LEFT)


def test_hits_all_over_the_panel_are_wide_and_centred() -> None:
    """Hits far from each other about the aim point are wide, and no side is named."""
    hits = [(-250.0, 200.0), (240.0, -210.0), (220.0, 250.0), (-230.0, -240.0)]
    words = describe_cluster(get_spread(hits), half_side_mm=300.0)
    assert words.tightness is Tightness.WIDE
    assert words.sides == (Side.CENTRED,)


def test_all_hits_on_one_spot_have_a_side() -> None:
    """Hits that do not vary at all leave no test, yet where they are is plain."""
    words = describe_cluster(get_spread([(0.0, 80.0)] * 5), half_side_mm=300.0)
    assert words.sides == (Side.HIGH,)
    assert describe_cluster(get_spread([(0.0, 0.0)] * 5)).sides == (Side.CENTRED,)
