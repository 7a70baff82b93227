"""A panel in mm: which zone a hit takes, and what it is worth."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.domain.panels import Panel, Zone, ZoneShape

#: An L of two squares, so that the outline is not convex.
CORNERS = ((0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (50.0, 50.0), (50.0, 100.0), (0.0, 100.0))
L_SHAPE = Zone(key="l", name="L", points=2, shape=ZoneShape.POLYGON, corners_mm=CORNERS)
PLATE = Zone(
    key="plate",
    name="Plate",
    points=4,
    shape=ZoneShape.RECTANGLE,
    width_mm=200,
    height_mm=100,
    corner_mm=20,
)
RING = Zone(key="ring", name="Ring", points=8, shape=ZoneShape.CIRCLE, radius_mm=30)
PANEL_SIDE_MM = 400


def make_panel(*, line_touch: bool = False) -> Panel:
    """Return a square panel with a ring on a plate."""
    return Panel(
        key="board",
        width_mm=PANEL_SIDE_MM,
        height_mm=PANEL_SIDE_MM,
        aim_x_mm=200,
        aim_y_mm=100,
        zones=(RING, PLATE),
        bare_name="Board",
        bare_points=1,
        wall_points=0.5,
        nowhere_points=0,
        wall_margin_mm=50,
        mark_radius_mm=8,
        line_touch=line_touch,
    )


@pytest.mark.parametrize(
    ("x_mm", "y_mm", "zone"),
    [(0, 0, "ring"), (29, 0, "ring"), (31, 0, "plate"), (99, 0, "plate"), (101, 0, None)],
)
def test_a_hit_takes_the_first_zone_that_holds_it(
    x_mm: float, y_mm: float, zone: str | None
) -> None:
    """Zones are listed from the innermost outwards."""
    found = make_panel().find_zone(x_mm, y_mm)
    assert zone == (found.key if found else None)


@pytest.mark.parametrize(
    ("x_mm", "line_touch", "points"),
    [(37, False, 4), (37, True, 8), (39, True, 4), (107, False, 1), (107, True, 4), (109, True, 1)],
)
def test_a_mark_on_a_line(x_mm: float, points: float, *, line_touch: bool) -> None:
    """Where lines count as touched, a mark of 8 mm takes the inner zone from 8 mm away.

    Common practice, no source: whether a mark on a line takes the better zone is said beforehand.
    """
    assert points == make_panel(line_touch=line_touch).points_at(x_mm, 0)


@pytest.mark.parametrize(
    ("x_mm", "y_mm", "points"),
    [(-200, 0, 1), (-201, 0, 0.5), (0, 300, 1), (0, 301, 0.5), (0, -100, 1), (0, -101, 0.5)],
)
def test_the_edge_belongs_to_the_panel(x_mm: float, y_mm: float, points: float) -> None:
    """The aim point need not be in the middle; a hit over the edge is worth the wall's points."""
    assert points == make_panel().points_at(x_mm, y_mm)


def test_a_mark_that_touches_the_panel_from_outside_is_on_the_wall() -> None:
    """Line touch is between zones: the middle of the mark decides panel or wall."""
    assert 0.5 == make_panel(line_touch=True).points_at(203, 0)
    assert make_panel(line_touch=True).find_zone(203, 0) is None


@pytest.mark.parametrize(("x_mm", "holds"), [(250, True), (251, False), (-250, True)])
def test_the_wall_reaches_as_far_as_its_margin(x_mm: float, *, holds: bool) -> None:
    """A hit farther off than the wall drawn around the panel is a slip of the finger."""
    assert holds == make_panel().wall_holds(x_mm, 0)


@pytest.mark.parametrize(
    ("x_mm", "y_mm", "distance_mm"),
    [(25, 75, 0), (75, 25, 0), (75, 75, 25), (-3, -4, 5), (120, 25, 20), (50, 50, 0)],
)
def test_how_far_a_point_is_from_a_polygon(x_mm: float, y_mm: float, distance_mm: float) -> None:
    """Inside the notch of an L the nearest line counts; (-3, -4) makes a 3-4-5 triangle."""
    assert math.isclose(distance_mm, L_SHAPE.distance_mm(x_mm, y_mm), abs_tol=1e-9)


def test_a_rounded_corner_is_round() -> None:
    """Beyond a corner of radius 20 the distance is that to a circle about its middle."""
    corner_x_mm, corner_y_mm = 100 - 20, 50 - 20
    expected = math.hypot(100 - corner_x_mm, 50 - corner_y_mm) - 20
    assert math.isclose(expected, PLATE.distance_mm(100, 50))


@given(x_mm=st.floats(-150, 250), y_mm=st.floats(-150, 250))
def test_the_distance_is_that_to_the_nearest_point_of_the_outline(x_mm: float, y_mm: float) -> None:
    """Checked with numpy against an outline of 4,000 points to a side."""
    distance_mm = L_SHAPE.distance_mm(x_mm, y_mm)
    if distance_mm == 0.0:
        assert _is_inside_l(x_mm, y_mm)
        return
    along = np.linspace(0.0, 1.0, 4001)[:, None]
    ends = np.array([*CORNERS[1:], CORNERS[0]])
    outline = np.vstack(
        [start + along * (end - start) for start, end in zip(np.array(CORNERS), ends, strict=True)]
    )
    nearest = float(np.hypot(outline[:, 0] - x_mm, outline[:, 1] - y_mm).min())
    assert math.isclose(nearest, distance_mm, abs_tol=0.02)


def _is_inside_l(x_mm: float, y_mm: float) -> bool:
    slack = 1e-9
    wide = -slack <= x_mm <= 100 + slack and -slack <= y_mm <= 50 + slack
    tall = -slack <= x_mm <= 50 + slack and -slack <= y_mm <= 100 + slack
    return wide or tall
