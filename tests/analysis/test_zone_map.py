"""Chances of each score: rectangles by scipy's normal distribution, rings by its Rice one."""

from __future__ import annotations

import pytest
from scipy import stats

from journal.analysis.zone_map import find_chances, map_zones
from tests.analysis.panels import ring_panel, square_panel


def square_chance(side_mm: float, x_mm: float, y_mm: float, scatter_mm: float) -> float:
    """Return the chance of a square about the aim point."""
    half = side_mm / 2
    across = stats.norm.cdf([-half, half], x_mm, scatter_mm)
    upward = stats.norm.cdf([-half, half], y_mm, scatter_mm)
    return float((across[1] - across[0]) * (upward[1] - upward[0]))


@pytest.mark.parametrize(
    ("x_mm", "y_mm", "scatter_mm"), [(0, 0, 90), (120, -160, 150), (40, 0, 30)]
)
def test_squares_have_the_chances_of_the_normal_distribution(
    x_mm: float, y_mm: float, scatter_mm: float
) -> None:
    """Each square's chance is its own less the inner one's, and the wall has the rest."""
    chances, wall = find_chances(map_zones(square_panel()), x_mm, y_mm, scatter_mm)
    whole = [square_chance(side, x_mm, y_mm, scatter_mm) for side in (120, 240, 400, 600)]
    assert chances[8.0] == pytest.approx(whole[0], abs=1e-12)
    assert chances[4.0] == pytest.approx(whole[1] - whole[0], abs=1e-12)
    assert chances[1.0] == pytest.approx(whole[3] - whole[2], abs=1e-12)
    assert wall == pytest.approx(1 - whole[3], abs=1e-12)


def test_a_ring_has_the_chance_of_the_rice_distribution() -> None:
    """A mark that touches the ring counts: its radius grows by the mark's, 110 mm in all.

    The outline is drawn in 10 mm squares, hence the tolerance.
    """
    chances, _ = find_chances(map_zones(ring_panel()), 60.0, 0.0, 80.0)
    expected = stats.rice.cdf(110.0, 60.0 / 80.0, scale=80.0)
    assert chances[3.0] == pytest.approx(expected, abs=0.005)
