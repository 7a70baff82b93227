"""Homography: from a tap on a photo of a panel to millimetres on the panel.

In: the panel's four corners as tapped on the photo, and the panel's size. Out: a map of any
tapped point to (x, y) in mm about the aim point. Exact for a flat panel seen by any lens
without distortion. Reserved for hits that a group reads from a photo of its panel; until that page
is there, only tests call it. Hartley & Zisserman, Multiple View Geometry in Computer Vision, 2004,
chapter 4 (from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, isfinite

from journal.analysis.equations import solve_equations
from journal.domain.panels import Panel

Point = tuple[float, float]
Point3 = tuple[float, float, float]

_CORNERS = 4
#: Corners nearer to one line than this share of the photo's extent make no panel.
_FLAT = 1e-6


@dataclass(frozen=True, slots=True)
class Homography:
    """The nine numbers of a plane-to-plane map, row by row, the last of them 1."""

    rows: tuple[Point3, Point3, Point3]

    def map_point(self, point: Point) -> Point | None:
        """Return where a point goes, or None for a point on the horizon."""
        x, y = point
        top, middle, bottom = (a * x + b * y + c for a, b, c in self.rows)
        # Rows are scaled to a last entry of about 1, so a weight near 0 lies on the horizon.
        if abs(bottom) < _FLAT or not isfinite(bottom):
            return None
        return (top / bottom, middle / bottom)


def find_homography(from_points: Sequence[Point], to_points: Sequence[Point]) -> Homography | None:
    """Return the map that takes four points to four points, in any units.

    `from_points` and `to_points` are four (x, y) each, in the same order round the figure. None
    where the four do not span a four-sided figure: three of them on a line, corners tapped
    crosswise, or numbers that are not finite.
    """
    if len(from_points) != _CORNERS or len(to_points) != _CORNERS:
        return None
    if not (_is_convex(from_points) and _is_convex(to_points)):
        return None
    # Both sides are moved and scaled to about 1 first: raw pixels lose digits in the products.
    near, near_back = _normalise(from_points)
    far, far_back = _normalise(to_points)
    matrix, right = [], []
    for (x, y), (u, v) in zip(near, far, strict=True):
        matrix.append([x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y])
        right.append(u)
        matrix.append([0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y])
        right.append(v)
    solved = solve_equations(matrix, right)
    if solved is None:
        return None
    a, b, c, d, e, f, g, h = solved
    middle = ((a, b, c), (d, e, f), (g, h, 1.0))
    (size, left, top), (far_size, far_left, far_top) = near_back, far_back
    inward = ((1 / size, 0.0, -left / size), (0.0, 1 / size, -top / size), (0.0, 0.0, 1.0))
    outward = ((far_size, 0.0, far_left), (0.0, far_size, far_top), (0.0, 0.0, 1.0))
    whole = _multiply(outward, _multiply(middle, inward))
    last = whole[2][2]
    if abs(last) < _FLAT:
        return Homography(whole)
    first, second, third = ((p / last, q / last, r / last) for p, q, r in whole)
    return Homography((first, second, third))


def find_panel_map(corners: Sequence[Point], panel: Panel) -> Homography | None:
    """Return the map of a photo to a panel, in mm about the aim point, from its corners as tapped.

    `corners`: top left, top right, bottom right, bottom left, in pixels, as on the photo. None
    where they span no four-sided figure.
    """
    return find_homography(
        corners,
        (
            (panel.left_mm, panel.top_mm),
            (panel.right_mm, panel.top_mm),
            (panel.right_mm, panel.bottom_mm),
            (panel.left_mm, panel.bottom_mm),
        ),
    )


def _is_convex(points: Sequence[Point]) -> bool:
    if not all(isfinite(x) and isfinite(y) for x, y in points):
        return False
    turns = []
    for i in range(_CORNERS):
        (x1, y1), (x2, y2), (x3, y3) = (points[(i + k) % _CORNERS] for k in range(3))
        sides = hypot(x2 - x1, y2 - y1) * hypot(x3 - x2, y3 - y2)
        if sides == 0.0:
            return False
        turns.append(((x2 - x1) * (y3 - y2) - (y2 - y1) * (x3 - x2)) / sides)
    return all(turn > _FLAT for turn in turns) or all(turn < -_FLAT for turn in turns)


def _normalise(points: Sequence[Point]) -> tuple[list[Point], Point3]:
    """Return points about their middle in units of their extent, and (unit, middle x, y)."""
    left = sum(x for x, _ in points) / len(points)
    top = sum(y for _, y in points) / len(points)
    size = max(hypot(x - left, y - top) for x, y in points)
    return [((x - left) / size, (y - top) / size) for x, y in points], (size, left, top)


def _multiply(
    left: tuple[Point3, Point3, Point3], right: tuple[Point3, Point3, Point3]
) -> tuple[Point3, Point3, Point3]:
    columns = tuple(zip(*right, strict=True))
    first, second, third = (
        (
            sum(a * b for a, b in zip(row, columns[0], strict=True)),
            sum(a * b for a, b in zip(row, columns[1], strict=True)),
            sum(a * b for a, b in zip(row, columns[2], strict=True)),
        )
        for row in left
    )
    return (first, second, third)
