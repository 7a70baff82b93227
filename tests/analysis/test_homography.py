"""From a photo to millimetres: scikit-image, and a square's diagonals."""

from __future__ import annotations

import random
from math import inf

import numpy as np
import pytest
from skimage.transform import ProjectiveTransform

from journal.analysis.homography import find_homography, find_panel_map
from tests.analysis.panels import square_panel

PHOTO = [(412.0, 301.0), (2210.0, 420.0), (2098.0, 2304.0), (300.0, 2011.0)]


def test_agrees_with_scikit_image() -> None:
    """A thousand random four-sided figures map points as scikit-image does."""
    draw = random.Random(7)
    panel = square_panel()
    corners_mm = np.array([(-300, 300), (300, 300), (300, -300), (-300, -300)], dtype=float)
    for _ in range(1000):
        corners = [(x + draw.uniform(-200, 200), y + draw.uniform(-200, 200)) for x, y in PHOTO]
        tap = (draw.uniform(500, 1900), draw.uniform(600, 1900))
        found = find_panel_map(corners, panel)
        assert found is not None
        expected = ProjectiveTransform.from_estimate(np.array(corners), corners_mm)(np.array([tap]))
        assert found.map_point(tap) == pytest.approx(tuple(expected[0]), rel=1e-6, abs=1e-6)


def test_diagonals_of_the_photo_cross_at_the_panels_centre() -> None:
    """Where the photo's diagonals cross is the middle of the square (projective geometry)."""
    (x1, y1), (x2, y2), (x3, y3), (x4, y4) = PHOTO
    matrix = np.array([[x3 - x1, x2 - x4], [y3 - y1, y2 - y4]])
    along = np.linalg.solve(matrix, np.array([x2 - x1, y2 - y1]))[0]
    crossing = (x1 + along * (x3 - x1), y1 + along * (y3 - y1))
    found = find_panel_map(PHOTO, square_panel())
    assert found is not None
    assert found.map_point(crossing) == pytest.approx((0.0, 0.0), abs=1e-9)
    assert found.map_point(PHOTO[0]) == pytest.approx((-300.0, 300.0), abs=1e-9)


@pytest.mark.parametrize(
    "corners",
    [
        [(0, 0), (1, 0), (2, 0), (0, 1)],
        [(0, 0), (1, 1), (1, 0), (0, 1)],
        [(0, 0), (0, 0), (1, 1), (0, 1)],
        [(0, 0), (1, 0), (1, inf), (0, 1)],
        [(0, 0), (1, 0), (1, 1)],
    ],
)
def test_corners_that_are_no_panel_have_no_map(corners: list[tuple[float, float]]) -> None:
    """Three on a line, crosswise, one twice, no place, or too few: cannot be a panel."""
    assert find_panel_map(corners, square_panel()) is None


def test_a_point_on_the_horizon_has_no_place() -> None:
    """Where the panel's plane vanishes there are no millimetres."""
    found = find_homography([(0, 0), (4, 0), (3, 1), (1, 1)], [(0, 0), (1, 0), (1, 1), (0, 1)])
    assert found is not None
    assert found.map_point((2.0, 2.0)) is None


def test_a_photo_whose_first_pixel_lies_on_the_horizon_still_has_a_map() -> None:
    """The map of corners seen that way takes them to the panel's corners all the same."""
    corners = [(0, -2), (4, -2), (3, -1), (1, -1)]
    shifted = [(x - 2, y) for x, y in corners]
    found = find_homography(shifted, [(0, 0), (1, 0), (1, 1), (0, 1)])
    assert found is not None
    assert found.map_point((0.0, 0.0)) is None
    assert found.map_point(shifted[2]) == pytest.approx((1.0, 1.0))
