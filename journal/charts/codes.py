"""QR codes for a screen and for paper, which a tablet's camera reads from two metres.

A code is read from about as far as 250 of its squares are wide, so 8 mm a square suit 2 m (common
practice for print, no source: ten times the width of a code of 25 squares). A camera that films
1920 points across 65 degrees has 0.75 points a mm at 2 m, so 6 mm a square are still 4.5 points.
"""

from __future__ import annotations

import segno

from journal.charts.drawing import draw, element
from journal.charts.palette import INK, SHEET

#: Squares of free space around a code (ISO/IEC 18004, from memory).
QUIET = 4


def draw_code(text: str, title: str, square_px: int = 8) -> str:
    """Draw the QR code of a text, on a ground of its own."""
    rows = segno.make(text, error="m", micro=False).matrix
    side_px = (len(rows) + 2 * QUIET) * square_px
    dark = "".join(
        f"M{column + QUIET} {row + QUIET}h1v1h-1z"
        for row, squares in enumerate(rows)
        for column, square in enumerate(squares)
        if square
    )
    return draw(
        element("rect", width=side_px, height=side_px, fill=SHEET),
        element(
            "path",
            d=dark,
            fill=INK,
            transform=f"scale({square_px})",
            shape_rendering="crispEdges",
        ),
        width_px=side_px,
        height_px=side_px,
        title=title,
        desc=text,
    )
