"""Every trial as a dot in the row of its points: columns of trials come in, a drawing goes out.

The rows are evenly spaced, best on top; misfires hop below the lowest row and are never a zero.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from journal.charts.dot_columns import (
    Dot,
    DotColumn,
    DotRow,
    DotSizes,
    most_in_row,
    without_earlier,
    write_columns,
)
from journal.charts.dot_tables import describe_dots, dots_table
from journal.charts.drawing import draw, element, fit_text, label, segment, stroke, text_width_px
from journal.charts.families import write_family
from journal.charts.marks import hop
from journal.charts.palette import INK_2, MADDER, PAPER, RULE

__all__ = [
    "Dot",
    "DotColumn",
    "DotRow",
    "describe_dots",
    "dots_table",
    "draw_dot_rows",
    "draw_small_dot_rows",
]

#: A column narrower than this many text heights cannot hold its mean beside its dots.
_LEAST_COLUMN = 7.2
#: The least width of a column in the class overview.
_LEAST_SMALL_COLUMN_PX = 80.0


def draw_dot_rows(
    columns: Sequence[DotColumn],
    rows: Sequence[DotRow],
    *,
    width_px: float = 932,
    row_px: float = 19,
    text_px: float = 18,
    show_mean: bool = False,
    heads: bool = True,
    shared: bool = True,
    misfire_name: str = "Misfire",
    ground: str = PAPER,
    ids: str = "dots",
    title: str = "Every trial by revision",
    desc: str = "",
) -> str:
    """Draw one dot a trial, a column a revision; the newest revision's in madder.

    `rows` from the best downwards. `heads` puts the revisions' discs and captions above; `shared`
    is their part's kind. `show_mean` adds a short bar with its figure beside each column. More
    columns than fit side by side go on in a band below.
    """
    names_px = max([text_width_px(row.name, text_px) for row in rows], default=0)
    names_px = max(names_px, text_width_px(misfire_name, text_px) - text_px * 0.4)
    figures_px = max([text_width_px(row.figure, text_px, bold=True) for row in rows], default=0)
    left_px = names_px + figures_px + text_px * 1.3
    side_by_side = max(1, int((width_px - left_px) / (text_px * _LEAST_COLUMN)))
    bands = max(1, math.ceil(len(columns) / side_by_side))
    per_band = max(1, math.ceil(len(columns) / bands))
    head_px = text_px * 4.4 if heads and columns else text_px * 0.6
    sizes = DotSizes(
        left_px=left_px,
        top_px=head_px + row_px / 2,
        row_px=row_px,
        column_px=(width_px - left_px) / per_band,
        radius_px=min(5.5, row_px * 0.3),
        text_px=text_px,
        ground=ground,
        most=most_in_row(columns),
    )
    band_px = sizes.top_px + len(rows) * row_px + text_px
    parts = []
    for band in range(bands):
        held = without_earlier(columns, band * per_band, per_band)
        inside = [
            *_names(
                rows,
                sizes,
                width_px,
                misfire_name if any(column.misfires for column in held) else "",
            ),
            *(_heads(held, sizes, shared=shared) if heads and held else ()),
            *write_columns(held, rows, sizes, show_mean=show_mean),
        ]
        shift = f"translate(0,{band * band_px:.2f})" if band else None
        parts.append(element("g", *inside, transform=shift))
    if not any(column.dots or column.misfires for column in columns):
        y = band_px - text_px * 0.4
        parts.append(label(left_px + 16, y, "No trials yet", size_px=text_px, colour=INK_2))
    return draw(
        *parts,
        width_px=width_px,
        height_px=bands * band_px,
        title=title,
        desc=desc or describe_dots(columns, rows, show_mean=show_mean),
        ids=ids,
    )


def draw_small_dot_rows(
    columns: Sequence[DotColumn],
    rows: Sequence[DotRow],
    *,
    width_px: float = 500,
    height_px: float = 84,
    show_mean: bool = True,
    shared: bool = True,
    part_name: str = "",
    ground: str = PAPER,
    ids: str = "small-dots",
    title: str = "Every trial by revision",
    desc: str = "",
) -> str:
    """Draw the dots for one row of the class overview, with the part's line of revisions above.

    Where not all revisions fit, the newest are drawn; the description tells all of them.
    """
    name_px = text_width_px(part_name, 14) + 10 if part_name else 0
    room_px = width_px - 10 - name_px
    fitting = max(1, int(room_px / _LEAST_SMALL_COLUMN_PX))
    first = max(0, len(columns) - fitting)
    held = without_earlier(columns, first, fitting)
    start_px = 26 if first else 0
    top_px = height_px * 0.34
    row_px = (height_px * 0.9 - top_px - 4) / max(1, len(rows))
    sizes = DotSizes(
        left_px=start_px,
        top_px=top_px,
        row_px=row_px,
        column_px=min(104.0, (room_px - start_px) / max(1, len(held))),
        radius_px=min(2.9, row_px * 0.34),
        text_px=14,
        ground=ground,
        most=most_in_row(columns),
    )
    parts = [
        stroke(segment(0, top_px + index * row_px, width_px, top_px + index * row_px), RULE, 0.75)
        for index in range(len(rows))
    ]
    if part_name:
        parts.append(label(width_px, 16, part_name, size_px=14, colour=INK_2, anchor="end"))
    xs = [start_px + 10 + index * sizes.column_px for index in range(len(held))]
    marks = [column.revision for column in held]
    parts += write_family(marks, xs, 13, 8.5, shared=shared, ground=ground)
    parts += write_columns(held, rows, sizes, show_mean=show_mean)
    return draw(
        *parts,
        width_px=width_px,
        height_px=height_px,
        title=title,
        desc=desc or describe_dots(columns, rows, show_mean=show_mean),
        ids=ids,
    )


def _names(
    rows: Sequence[DotRow], sizes: DotSizes, width_px: float, misfire_name: str
) -> list[str]:
    parts = []
    size = sizes.text_px
    for index, row in enumerate(rows):
        y = sizes.top_px + index * sizes.row_px
        baseline = y + size * 0.34
        end_px = sizes.left_px - size * 0.4
        parts += [
            stroke(segment(sizes.left_px, y, width_px, y), RULE, 1),
            label(0, baseline, row.name, size_px=size),
            label(end_px, baseline, row.figure, size_px=size, bold=True, anchor="end"),
        ]
    if misfire_name:
        foot_px = sizes.top_px + len(rows) * sizes.row_px
        parts += [
            label(0, foot_px + size * 0.5, misfire_name, size_px=size),
            hop(sizes.left_px - size * 0.75, foot_px + size * 0.4, size / 3),
        ]
    return parts


def _heads(columns: Sequence[DotColumn], sizes: DotSizes, *, shared: bool) -> list[str]:
    """Write the line of revisions above the columns, and what changed below each disc."""
    radius, text_px = sizes.text_px * 0.78, sizes.text_px
    xs = [
        sizes.left_px + index * sizes.column_px + min(sizes.column_px / 2, radius + 4)
        for index in range(len(columns))
    ]
    marks = [column.revision for column in columns]
    parts = write_family(marks, xs, radius * 2, radius, shared=shared, ground=sizes.ground)
    for mark, x in zip(marks, xs, strict=True):
        text = fit_text(mark.caption, text_px, sizes.column_px - 8, bold=True)
        if text:
            colour = MADDER if mark.newest else INK_2
            parts.append(label(x - radius, radius * 3 + text_px * 1.15, text, size_px=text_px,
                               colour=colour, bold=mark.newest))  # fmt: skip
    return parts
