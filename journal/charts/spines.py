"""The spine of a group: its number comes in, hue, pattern and mark go out as drawings.

Eight sets of hue, pattern and mark; the ninth group has the first set again, and its number tells
them apart.
"""

from __future__ import annotations

from journal.charts.drawing import (
    circle,
    draw,
    element,
    label,
    rectangle,
    segment,
    stroke,
)
from journal.charts.marks import Mark, mark
from journal.charts.palette import GROUP_HUES, INK, PAPER

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
PATTERN_NAMES = ("two bars", "slants", "dots", "chevrons", "lattice", "uprights", "dashes", "waves")


#: A longer number is written smaller.
TWO_FIGURES = 2


def group_set(number: int) -> int:
    """Return which of the eight sets a group's number has, counted from 0."""
    return (number - 1) % len(GROUP_HUES)


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
    ids: str = "spine",
) -> str:
    """Draw the band at the left edge of a group's pages.

    `numbered` puts a plate with number and mark on it; leave it out where both stand beside.
    `ids` must differ between drawings of one page.
    """
    pattern_id = f"{ids}-{number}-pattern"
    parts = [rectangle(0, 0, width_px, height_px, fill=f"url(#{pattern_id})")]
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
        definitions=[_pattern(number, pattern_id)],
    )


def draw_spine_card(number: int, *, chosen: bool = False, ids: str = "card") -> str:
    """Draw a group's card on the shelf at the door, 72 x 104 px."""
    pattern_id = f"{ids}-{number}-pattern"
    line_px = 3.0 if chosen else 1.5
    half = line_px / 2
    return draw(
        rectangle(
            half,
            half,
            72 - line_px,
            104 - line_px,
            fill=f"url(#{pattern_id})",
            stroke=INK,
            stroke_width=line_px,
        ),
        rectangle(half, 16, 72 - line_px, 58, fill=PAPER, stroke=INK, stroke_width=1.5),
        *_number_and_mark(number, 36, 14, 62),
        width_px=72,
        height_px=104,
        title=f"Group {number}",
        desc=describe_group(number),
        definitions=[_pattern(number, pattern_id)],
    )


def group_mark(number: int, size_px: float = 18) -> str:
    """Draw a group's mark alone, to stand between its number and its name."""
    middle = size_px / 2
    return draw(
        _mark(number, middle, middle, size_px * 0.39),
        width_px=size_px,
        height_px=size_px,
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


def _pattern(number: int, pattern_id: str) -> str:
    index = group_set(number)
    width, height, figures = _PATTERNS[index]
    return element(
        "pattern",
        rectangle(0, 0, width, height, fill=GROUP_HUES[index]),
        *figures,
        id=pattern_id,
        width=width,
        height=height,
        patternUnits="userSpaceOnUse",
    )


_PATTERNS: tuple[tuple[float, float, tuple[str, ...]], ...] = (
    (28, 32, (rectangle(0, 6, 28, 3.5, fill=PAPER), rectangle(0, 14, 28, 3.5, fill=PAPER))),
    (16, 16, (stroke("M-4 12L12 -4M-4 28L28 -4M4 20L20 4", INK, 3),)),
    (14, 14, (circle(3.5, 3.5, 2.2, fill=INK), circle(10.5, 10.5, 2.2, fill=INK))),
    (28, 14, (stroke("M-2 12L14 2L30 12", INK, 2.6),)),
    (14, 14, (stroke("M0 0L14 14M14 0L0 14", INK, 1.8),)),
    (9.34, 10, (rectangle(3.2, 0, 3, 10, fill=INK),)),
    (14, 14, (stroke("M1 4h6M8 11h6", INK, 2.4),)),
    (14, 10, (stroke("M0 5q3.5 -5 7 0t7 0", PAPER, 2),)),
)
