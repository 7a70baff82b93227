"""The pattern of a group: its number and a size come in, a covered ground goes out."""

from __future__ import annotations

from collections.abc import Callable

from journal.charts.drawing import rectangle, segment, stroke
from journal.charts.palette import GROUP_HUES, INK, PAPER

PATTERN_NAMES = ("two bars", "slants", "dots", "chevrons", "lattice", "uprights", "dashes", "waves")


def group_set(number: int) -> int:
    """Return which of the eight sets a group's number has, counted from 0."""
    return (number - 1) % len(GROUP_HUES)


def write_pattern(number: int, width_px: float, height_px: float) -> list[str]:
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
