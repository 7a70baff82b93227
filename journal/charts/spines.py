"""The spine of a group: its number comes in, hue, pattern and mark go out as drawings.

Eight sets of hue, pattern and mark; the ninth group has the first set again, and its number tells
them apart.
"""

from __future__ import annotations

from journal.charts.drawing import (
    draw,
    label,
    rectangle,
    segment,
    stroke,
)
from journal.charts.marks import Mark, mark
from journal.charts.palette import GROUP_HUES, INK, PAPER
from journal.charts.patterns import PATTERN_NAMES, group_set, write_pattern

GROUP_MARKS = (
    Mark.CIRCLE,
    Mark.SQUARE,
    Mark.TRIANGLE,
    Mark.DIAMOND,
    Mark.CROSS,
    Mark.HEXAGON,
    Mark.KITE,
    Mark.RING,
)


#: A longer number is written smaller.
TWO_FIGURES = 2


def describe_group(number: int) -> str:
    """Say a group's number, pattern and mark in words."""
    index = group_set(number)
    return f"Group {number}: {PATTERN_NAMES[index]}, {GROUP_MARKS[index]}"


def draw_spine(
    number: int,
    height_px: float,
    width_px: float = 28,
    *,
    numbered: bool = True,
) -> str:
    """Draw the band at the left edge of a group's pages.

    `numbered` puts a plate with number and mark on it; leave it out where both stand beside.
    """
    parts = write_pattern(number, width_px, height_px)
    if numbered:
        plate_px = min(64.0, height_px * 0.62)
        top_px = min(20.0, (height_px - plate_px) / 2)
        parts += [
            rectangle(0, top_px, width_px, plate_px, fill=PAPER),
            stroke(segment(0, top_px, width_px, top_px)),
            stroke(segment(0, top_px + plate_px, width_px, top_px + plate_px)),
            *_number_and_mark(number, width_px / 2, top_px, plate_px),
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


def _number_and_mark(number: int, x: float, top_px: float, room_px: float) -> list[str]:
    size_px = min(22.0, room_px * 0.32) if len(str(number)) <= TWO_FIGURES else 13.0
    return [
        label(x, top_px + room_px * 0.43, str(number), size_px=size_px, bold=True, anchor="middle"),
        _mark(number, x, top_px + room_px * 0.72, room_px * 0.1),
    ]


def _mark(number: int, x: float, y: float, radius: float) -> str:
    index = group_set(number)
    return mark(
        GROUP_MARKS[index],
        x,
        y,
        radius,
        fill=GROUP_HUES[index],
        stroke=INK,
        stroke_width=1.5,
        stroke_linejoin="round",
    )
