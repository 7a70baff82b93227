"""The marks that tell children, groups and trials apart without colour."""

from __future__ import annotations

import math
from enum import StrEnum

from journal.charts.drawing import Attribute, circle, element, figure, outline, rectangle, stroke
from journal.charts.palette import INK


class Mark(StrEnum):
    """A shape."""

    CIRCLE = "circle"
    SQUARE = "square"
    TRIANGLE = "triangle"
    DIAMOND = "diamond"
    CROSS = "cross"
    HEXAGON = "hexagon"
    KITE = "kite"
    RING = "ring"


#: The marks of the children of a group, in order of joining.
CHILD_MARKS = (Mark.CIRCLE, Mark.SQUARE, Mark.TRIANGLE, Mark.DIAMOND, Mark.CROSS)


def child_mark(index: int) -> Mark:
    """Return the mark of the child with this place in the group, counted from 0."""
    return CHILD_MARKS[index % len(CHILD_MARKS)]


def mark(kind: Mark, x: float, y: float, radius: float, **attributes: Attribute) -> str:
    """Write a mark around a middle; all marks cover about the same area as the circle."""
    if kind is Mark.CIRCLE:
        return circle(x, y, radius, **attributes)
    if kind is Mark.SQUARE:
        half = radius * 0.88
        return rectangle(x - half, y - half, 2 * half, 2 * half, **attributes)
    if kind is Mark.RING:
        fill = attributes.pop("fill", INK)
        return stroke(_ring(x, y, radius * 0.78), str(fill), radius * 0.55)
    corners = [(x + radius * dx, y + radius * dy) for dx, dy in _CORNERS[kind]]
    return element("path", d=outline(corners), **attributes)


def plus(x: float, y: float, reach: float, colour: str, width: float = 2.5) -> str:
    """Write the plus that stands for the middle of hits."""
    data = f"M{figure(x - reach)} {figure(y)}h{figure(2 * reach)}"
    data += f"M{figure(x)} {figure(y - reach)}v{figure(2 * reach)}"
    return stroke(data, colour, width)


def hop(x: float, y: float, radius: float, colour: str = INK) -> str:
    """Write a misfire: a small hop on a foot line at y."""
    data = f"M{figure(x - radius)} {figure(y)}a{figure(radius)} {figure(radius * 1.35)}"
    return stroke(f"{data} 0 0 1 {figure(2 * radius)} 0", colour, max(1.4, radius * 0.45))


def _ring(x: float, y: float, radius: float) -> str:
    # WeasyPrint draws no stroke-only circle thinner than its fill, a path is the same everywhere.
    arc = f"a{figure(radius)} {figure(radius)} 0 1 0 "
    across = figure(2 * radius)
    return f"M{figure(x - radius)} {figure(y)}{arc}{across} 0{arc}-{across} 0Z"


def _arm() -> tuple[tuple[float, float], ...]:
    arm, end = 0.4, 1.12
    return (
        (-arm, -end), (arm, -end), (arm, -arm), (end, -arm), (end, arm), (arm, arm),
        (arm, end), (-arm, end), (-arm, arm), (-end, arm), (-end, -arm), (-arm, -arm),
    )  # fmt: skip


_CORNERS: dict[Mark, tuple[tuple[float, float], ...]] = {
    Mark.TRIANGLE: ((0, -1.15), (1.12, 0.8), (-1.12, 0.8)),
    Mark.DIAMOND: ((0, -1.22), (1.22, 0), (0, 1.22), (-1.22, 0)),
    Mark.CROSS: _arm(),
    Mark.HEXAGON: tuple(
        (1.1 * math.cos(math.pi * k / 3), 1.1 * math.sin(math.pi * k / 3)) for k in range(6)
    ),
    Mark.KITE: ((-0.7, -1.0), (0.7, -1.0), (1.15, -0.2), (0, 1.2), (-1.15, -0.2)),
}
