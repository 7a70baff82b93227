"""The marks of drawings: a child's notched stem, the middle of hits, a misfire.

A stem carries one to five strokes, so that a child is told by counting, in grey as well; what is
drawn never says who by shape or colour.
"""

from __future__ import annotations

from journal.charts.drawing import figure, segment, stroke
from journal.charts.palette import INK

MOST_STROKES = 5
#: Parts of a stem's height: how far strokes reach, how far they rise, from one to the next, and
#: how thick stem and strokes are.
_REACH, _RISE, _STEP = 0.47, 0.1, 0.172
_STEM_WIDTH, _STROKE_WIDTH = 0.112, 0.066
#: Thinner lines than this vanish on paper.
_THINNEST_PX = 0.7


def stem_width_px(height_px: float) -> float:
    """Return how wide a stem with its strokes is."""
    return height_px * (_STEM_WIDTH / 2 + _REACH)


def stem(
    strokes: int,
    x: float,
    top: float,
    height_px: float,
    colour: str = INK,
    *,
    halo: str = "",
) -> list[str]:
    """Write a stem whose middle line is at x, with its strokes to the right.

    The strokes stand round the middle and the stem sticks out at both ends, so that it is no
    letter and no flag. `halo` is the ground that keeps it clear of what lies behind.
    """
    if not 1 <= strokes <= MOST_STROKES:
        message = f"A stem has 1 to {MOST_STROKES} strokes, not {strokes}."
        raise ValueError(message)
    upright = segment(x, top, x, top + height_px)
    first = top + height_px * (0.5 + _RISE / 2 - _STEP * (strokes - 1) / 2)
    data = "".join(
        segment(x, y, x + height_px * _REACH, y - height_px * _RISE)
        for y in (first + height_px * _STEP * place for place in range(strokes))
    )
    stem_px = max(_THINNEST_PX * 1.7, height_px * _STEM_WIDTH)
    stroke_px = max(_THINNEST_PX, height_px * _STROKE_WIDTH)
    behind = [stroke(upright + data, halo, stroke_px * 2.6)] if halo else []
    return [*behind, stroke(upright, colour, stem_px), stroke(data, colour, stroke_px)]


def describe_strokes(strokes: int) -> str:
    """Say a stem in words."""
    return "1 stroke" if strokes == 1 else f"{strokes} strokes"


def plus(x: float, y: float, reach: float, colour: str, width: float = 2.5) -> str:
    """Write the plus that stands for the middle of hits."""
    data = f"M{figure(x - reach)} {figure(y)}h{figure(2 * reach)}"
    data += f"M{figure(x)} {figure(y - reach)}v{figure(2 * reach)}"
    return stroke(data, colour, width)


def hop(x: float, y: float, radius: float, colour: str = INK) -> str:
    """Write a misfire: a small hop on a foot line at y."""
    data = f"M{figure(x - radius)} {figure(y)}a{figure(radius)} {figure(radius * 1.35)}"
    return stroke(f"{data} 0 0 1 {figure(2 * radius)} 0", colour, max(1.4, radius * 0.45))
