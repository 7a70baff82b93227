"""A panel, the thing aimed at, and its zones, in mm.

Coordinates: origin is the aim point, x to the right, y up, all in mm.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from enum import StrEnum


class ZoneShape(StrEnum):
    """The outline of a zone."""

    RECTANGLE = "rectangle"
    CIRCLE = "circle"
    POLYGON = "polygon"


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """An area of a panel with points; the first zone listed that holds a hit takes it."""

    key: str
    name: str
    points: float
    shape: ZoneShape
    centre_x_mm: float = 0.0
    centre_y_mm: float = 0.0
    #: RECTANGLE
    width_mm: float = 0.0
    height_mm: float = 0.0
    corner_mm: float = 0.0
    #: CIRCLE
    radius_mm: float = 0.0
    #: POLYGON: corners in order, straight lines between them
    corners_mm: tuple[tuple[float, float], ...] = ()

    def distance_mm(self, x_mm: float, y_mm: float) -> float:
        """Return how far a point lies outside the zone; 0 inside it or on its line."""
        dx, dy = x_mm - self.centre_x_mm, y_mm - self.centre_y_mm
        if self.shape is ZoneShape.CIRCLE:
            return max(0.0, math.hypot(dx, dy) - self.radius_mm)
        if self.shape is ZoneShape.RECTANGLE:
            return self._outside_rounded(abs(dx), abs(dy))
        return _outside_polygon(self.corners_mm, x_mm, y_mm)

    def _outside_rounded(self, dx: float, dy: float) -> float:
        corner = min(self.corner_mm, self.width_mm / 2, self.height_mm / 2)
        over_x = dx - (self.width_mm / 2 - corner)
        over_y = dy - (self.height_mm / 2 - corner)
        if over_x > 0 and over_y > 0:
            return max(0.0, math.hypot(over_x, over_y) - corner)
        return max(0.0, over_x - corner, over_y - corner)


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A panel of printed sheets on a wall; zones are listed from the innermost outwards.

    `mark_radius_mm` with `line_touch` says how a mark on a line counts: it takes the zone that it
    touches, listed first, when `line_touch` holds, else the zone under its middle.
    """

    key: str
    width_mm: float
    height_mm: float
    #: The aim point measured from the panel's left and bottom edge.
    aim_x_mm: float
    aim_y_mm: float
    zones: tuple[Zone, ...]
    #: Points for a hit on the panel outside every zone.
    bare_name: str
    bare_points: float
    wall_points: float
    nowhere_points: float
    #: How far the wall that can be tapped reaches beyond the panel on each side.
    wall_margin_mm: float
    mark_radius_mm: float
    line_touch: bool

    #: The edges, from the aim point.
    left_mm: float = field(init=False)
    right_mm: float = field(init=False)
    bottom_mm: float = field(init=False)
    top_mm: float = field(init=False)

    def __post_init__(self) -> None:
        """Work the edges out once: every hit is held against them."""
        object.__setattr__(self, "left_mm", -self.aim_x_mm)
        object.__setattr__(self, "right_mm", self.width_mm - self.aim_x_mm)
        object.__setattr__(self, "bottom_mm", -self.aim_y_mm)
        object.__setattr__(self, "top_mm", self.height_mm - self.aim_y_mm)

    def holds(self, x_mm: float, y_mm: float) -> bool:
        """Tell whether a point lies on the panel."""
        return self.left_mm <= x_mm <= self.right_mm and self.bottom_mm <= y_mm <= self.top_mm

    def wall_holds(self, x_mm: float, y_mm: float) -> bool:
        """Tell whether a point lies on the panel or on the wall drawn around it."""
        margin = self.wall_margin_mm
        return (
            self.left_mm - margin <= x_mm <= self.right_mm + margin
            and self.bottom_mm - margin <= y_mm <= self.top_mm + margin
        )

    def find_zone(self, x_mm: float, y_mm: float) -> Zone | None:
        """Return the zone that a hit takes, or None on the bare panel (or off it)."""
        if not self.holds(x_mm, y_mm):
            return None
        reach_mm = self.mark_radius_mm if self.line_touch else 0.0
        for zone in self.zones:
            if zone.distance_mm(x_mm, y_mm) <= reach_mm:
                return zone
        return None

    def points_at(self, x_mm: float, y_mm: float) -> float:
        """Return the points of a hit: its zone's, the bare panel's or the wall's."""
        if not self.holds(x_mm, y_mm):
            return self.wall_points
        zone = self.find_zone(x_mm, y_mm)
        return self.bare_points if zone is None else zone.points


def _outside_polygon(corners: tuple[tuple[float, float], ...], x: float, y: float) -> float:
    inside, nearest = False, math.inf
    for (x1, y1), (x2, y2) in zip(corners, corners[1:] + corners[:1], strict=True):
        if (y1 > y) != (y2 > y) and x < (x2 - x1) * (y - y1) / (y2 - y1) + x1:
            inside = not inside
        length_squared = (x2 - x1) ** 2 + (y2 - y1) ** 2
        along = ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / length_squared
        along = min(1.0, max(0.0, along))
        nearest = min(nearest, math.hypot(x - x1 - along * (x2 - x1), y - y1 - along * (y2 - y1)))
    return 0.0 if inside else nearest
