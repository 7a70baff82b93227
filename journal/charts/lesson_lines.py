"""How far a lesson is: walked in ink, now a dot in the accent colour, the rest dashed."""

from __future__ import annotations

from journal.charts.drawing import circle, draw, label, segment, stroke
from journal.charts.palette import INK, INK_2, MADDER

_EDGE_PX = 20.0
_LINE_PX = 14.0
_NOTCH_PX = 11.0
_TEXT_PX = 16.0


def draw_lesson_line(
    *,
    share: float,
    clean_up_share: float,
    start: str,
    end: str,
    title: str,
    desc: str,
    width_px: float = 420,
) -> str:
    """Draw the line of a lesson, with its start and end as people read them."""
    left, right = _EDGE_PX, width_px - _EDGE_PX
    now = left + (right - left) * min(max(share, 0.0), 1.0)
    clean_up = left + (right - left) * clean_up_share
    below = _LINE_PX + _NOTCH_PX + _TEXT_PX + 2
    parts = [
        stroke(segment(left, _LINE_PX, now, _LINE_PX), INK, 4),
        stroke(segment(now, _LINE_PX, right, _LINE_PX), INK, 1.5, stroke_dasharray="5 5"),
        *(
            stroke(segment(x, _LINE_PX - _NOTCH_PX, x, _LINE_PX + _NOTCH_PX), INK, 2.5)
            for x in (left, clean_up, right)
        ),
        circle(now, _LINE_PX, 8, fill=MADDER),
        label(0, below, start, size_px=_TEXT_PX, colour=INK_2),
        label(width_px, below, end, size_px=_TEXT_PX, colour=INK_2, anchor="end"),
    ]
    return draw(
        *parts,
        width_px=width_px,
        height_px=_LINE_PX + _NOTCH_PX + _TEXT_PX + 8,
        title=title,
        desc=desc,
    )
