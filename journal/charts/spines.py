"""The spine of a group: its number comes in, hue and pattern go out as drawings.

Eight sets of hue and pattern; the ninth group has the first set again, and its number tells them
apart.
"""

from __future__ import annotations

from journal.charts.drawing import (
    draw,
    label,
    rectangle,
    segment,
    stroke,
)
from journal.charts.palette import PAPER
from journal.charts.patterns import PATTERN_NAMES, group_set, write_pattern

#: A longer number is written smaller.
TWO_FIGURES = 2


def describe_group(number: int) -> str:
    """Say a group's number and pattern in words."""
    return f"Group {number}: {PATTERN_NAMES[group_set(number)]}"


def draw_spine(
    number: int,
    height_px: float,
    width_px: float = 28,
    *,
    numbered: bool = True,
) -> str:
    """Draw the band at the left edge of a group's pages.

    `numbered` puts a plate with the number on it; leave it out where the number stands beside.
    """
    parts = write_pattern(number, width_px, height_px)
    if numbered:
        plate_px = min(64.0, height_px * 0.62)
        top_px = min(20.0, (height_px - plate_px) / 2)
        parts += [
            rectangle(0, top_px, width_px, plate_px, fill=PAPER),
            stroke(segment(0, top_px, width_px, top_px)),
            stroke(segment(0, top_px + plate_px, width_px, top_px + plate_px)),
            _number(number, width_px / 2, top_px, plate_px),
        ]
    edge_px = width_px - 0.75
    parts.append(stroke(segment(edge_px, 0, edge_px, height_px)))
    return draw(
        *parts,
        width_px=width_px,
        height_px=height_px,
        title=f"Group {number}",
        desc=describe_group(number),
    )


def _number(number: int, x: float, top_px: float, room_px: float) -> str:
    size_px = min(24.0, room_px * 0.4) if len(str(number)) <= TWO_FIGURES else 13.0
    base_px = top_px + room_px / 2 + size_px * 0.36
    return label(x, base_px, str(number), size_px=size_px, bold=True, anchor="middle")
