"""The spine of a group: its number comes in, hue, pattern and mark go out as drawings.

Eight sets of hue, pattern and mark; the ninth group has the first set again, and its number tells
them apart.
"""

from __future__ import annotations

from collections.abc import Callable

from journal.charts.drawing import (
    draw,
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
) -> str:
    """Draw the band at the left edge of a group's pages.

    `numbered` puts a plate with number and mark on it; leave it out where both stand beside.
    """
    parts = _cover(number, width_px, height_px)
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


def draw_spine_card(number: int, *, chosen: bool = False) -> str:
    """Draw a group's card on the shelf at the door, 72 x 104 px."""
    line_px = 3.0 if chosen else 1.5
    half = line_px / 2
    return draw(
        *_cover(number, 72, 104),
        rectangle(
            half, half, 72 - line_px, 104 - line_px, fill="none", stroke=INK, stroke_width=line_px
        ),
        rectangle(half, 16, 72 - line_px, 58, fill=PAPER, stroke=INK, stroke_width=1.5),
        *_number_and_mark(number, 36, 14, 62),
        width_px=72,
        height_px=104,
        title=f"Group {number}",
        desc=describe_group(number),
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


def _cover(number: int, width_px: float, height_px: float) -> list[str]:
    """Write the hue with its pattern over a whole drawing, whose edges cut it.

    Written out rather than as an SVG pattern: printed tiles show their seams.
    """
    hue = GROUP_HUES[group_set(number)]
    write, colour, line_px = _PATTERNS[group_set(number)]
    return [
        rectangle(0, 0, width_px, height_px, fill=hue),
        stroke(
            write(width_px, height_px),
            colour,
            line_px,
            stroke_linecap="round" if write is _dots else None,
        ),
    ]


def _steps(start: float, end: float, step: float) -> list[float]:
    return [start + index * step for index in range(int((end - start) / step) + 1)]


def _two_bars(width: float, height: float) -> str:
    return "".join(
        segment(0, y, width, y) for top in _steps(0, height, 32) for y in (top + 7.75, top + 15.75)
    )


def _slants(width: float, height: float) -> str:
    return "".join(segment(-2, y + 2, width + 2, y - width - 2) for y in _rise(width, height, 16))


def _dots(width: float, height: float) -> str:
    # Strokes of no length with round ends: a whole field of dots in one path.
    return "".join(
        f"M{x + shift:.2f} {y + shift:.2f}h.01"
        for y in _steps(3.5, height, 14)
        for x in _steps(3.5, width, 14)
        for shift in (0.0, 7.0)
    )


def _chevrons(width: float, height: float) -> str:
    return "".join(
        f"M{left - 2:.2f} {y + 12:.2f}l16 -10l16 10"
        for y in _steps(-14, height, 14)
        for left in _steps(0, width, 28)
    )


def _lattice(width: float, height: float) -> str:
    down = "".join(segment(-2, y - width - 2, width + 2, y + 2) for y in _rise(width, height, 14))
    up = "".join(segment(-2, y + 2, width + 2, y - width - 2) for y in _rise(width, height, 14))
    return down + up


def _uprights(width: float, height: float) -> str:
    return "".join(segment(x, 0, x, height) for x in _steps(4.7, width, 9.33))


def _dashes(width: float, height: float) -> str:
    return "".join(
        f"M{x + 1:.2f} {y + 4:.2f}h6m1 7h6"
        for y in _steps(0, height, 14)
        for x in _steps(0, width, 14)
    )


def _waves(width: float, height: float) -> str:
    return "".join(
        f"M0 {y + 5:.2f}" + "q3.5 -5 7 0t7 0" * (int(width / 14) + 1) for y in _steps(0, height, 10)
    )


def _rise(width: float, height: float, step: float) -> list[float]:
    return _steps(0, height + width + step, step)


_PATTERNS: tuple[tuple[Callable[[float, float], str], str, float], ...] = (
    (_two_bars, PAPER, 3.5),
    (_slants, INK, 3.0),
    (_dots, INK, 4.4),
    (_chevrons, INK, 2.6),
    (_lattice, INK, 1.8),
    (_uprights, INK, 3.0),
    (_dashes, INK, 2.4),
    (_waves, PAPER, 2.0),
)
