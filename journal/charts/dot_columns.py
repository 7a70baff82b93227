"""Columns of dots: the trials of revisions come in, marks in evenly spaced rows go out."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from journal.charts.drawing import (
    circle,
    label,
    plate,
    rectangle,
    segment,
    stroke,
    text_width_px,
)
from journal.charts.families import FamilyMark
from journal.charts.marks import hop
from journal.charts.palette import INK, MADDER, SHEET
from journal.charts.tables import mean_text


@dataclass(frozen=True, slots=True, kw_only=True)
class DotRow:
    """A row: a zone with its points, or a step of a measure."""

    key: str
    #: May be empty.
    name: str
    #: What the row is worth, where the mean is drawn from.
    value: float
    #: The value as it is written, such as "8" or "40-50".
    figure: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Dot:
    """One measured trial."""

    row: str
    counted: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class DotColumn:
    """A revision with its trials."""

    revision: FamilyMark
    dots: tuple[Dot, ...]
    misfires: int = 0
    #: The mean of the trials' true values; worked out from the rows where it is None.
    mean: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DotSizes:
    """Where the columns lie and how large their dots may be."""

    left_px: float
    top_px: float
    row_px: float
    column_px: float
    radius_px: float
    text_px: float
    ground: str
    #: Most dots in one row of any column: all columns share one size of dot.
    most: int


def column_mean(column: DotColumn, rows: Sequence[DotRow]) -> float | None:
    """Return the mean of a column's trials, None where there are none."""
    if column.mean is not None:
        return column.mean if math.isfinite(column.mean) else None
    values = {row.key: row.value for row in rows}
    known = [values[dot.row] for dot in column.dots if dot.row in values]
    return math.fsum(known) / len(known) if known else None


def most_in_row(columns: Sequence[DotColumn]) -> int:
    """Return the most dots, or misfires, that one row of any column holds; at least 1."""
    most = 1
    for column in columns:
        counts = Counter(dot.row for dot in column.dots)
        most = max([most, column.misfires, *counts.values()])
    return most


def without_earlier(columns: Sequence[DotColumn], first: int, count: int) -> list[DotColumn]:
    """Return some of the columns; a parent among those left out has a negative index then."""
    return [
        replace(column, revision=_shifted(column.revision, first))
        for column in columns[first : first + count]
    ]


def _shifted(mark: FamilyMark, by: int) -> FamilyMark:
    return mark if mark.parent is None else replace(mark, parent=mark.parent - by)


def write_columns(
    columns: Sequence[DotColumn], rows: Sequence[DotRow], sizes: DotSizes, *, show_mean: bool
) -> list[str]:
    """Write each column's dots, misfires and, where asked for, its mean."""
    parts: list[str] = []
    mean_px = _mean_room_px(columns, rows, sizes) if show_mean else sizes.text_px * 0.5
    before_px = min(mean_px, sizes.column_px * 0.6)
    pitch = min(sizes.radius_px * 2.45, (sizes.column_px - before_px - 6) / sizes.most)
    for index, column in enumerate(columns):
        start_px = sizes.left_px + index * sizes.column_px + before_px
        colour = MADDER if column.revision.newest else INK
        parts += _dots(column, rows, sizes, (start_px, pitch), colour)
        mean = column_mean(column, rows) if show_mean else None
        if mean is not None and rows:
            y = sizes.top_px + _row_position(mean, rows) * sizes.row_px
            parts += _mean(mean_text(mean), (start_px - sizes.text_px * 0.4, y), sizes, colour)
    return parts


def _mean_room_px(columns: Sequence[DotColumn], rows: Sequence[DotRow], sizes: DotSizes) -> float:
    """Return what the widest mean needs before the dots: its figure, the bar and the gaps."""
    means = [column_mean(column, rows) for column in columns]
    figures_px = [
        text_width_px(mean_text(mean), sizes.text_px, bold=True)
        for mean in means
        if mean is not None
    ]
    return max([sizes.text_px * 3.2, *(width_px + sizes.text_px * 1.8 for width_px in figures_px)])


def _dots(
    column: DotColumn,
    rows: Sequence[DotRow],
    sizes: DotSizes,
    run: tuple[float, float],
    colour: str,
) -> list[str]:
    start_px, pitch = run
    by_row = {row.key: [dot for dot in column.dots if dot.row == row.key] for row in rows}
    radius = max(0.8, min(sizes.radius_px, pitch * 0.45))
    parts = []
    for index, dots in enumerate(by_row.values()):
        y = sizes.top_px + index * sizes.row_px
        for place, dot in enumerate(dots):
            x = start_px + radius + place * pitch
            parts += _framed(x, y, radius, colour) if dot.counted else [
                circle(x, y, radius, fill=colour)
            ]  # fmt: skip
    foot_px = sizes.top_px + len(rows) * sizes.row_px + sizes.radius_px * 0.9
    hop_radius = max(radius, 1.6)  # still a bow at that size
    parts += [
        hop(start_px + radius + place * pitch, foot_px, hop_radius, colour)
        for place in range(column.misfires)
    ]
    return parts


def _framed(x: float, y: float, radius: float, colour: str) -> list[str]:
    side = radius * 2.1
    frame = rectangle(
        x - side / 2, y - side / 2, side, side, fill=SHEET, stroke=colour,
        stroke_width=max(0.8, radius / 4),
    )  # fmt: skip
    return [frame, circle(x, y, radius * 0.58, fill=colour)]


def _mean(text: str, end: tuple[float, float], sizes: DotSizes, colour: str) -> list[str]:
    x, y = end
    bar_px = sizes.text_px * 0.72
    text_x, baseline = x - bar_px - sizes.text_px * 0.3, y + sizes.text_px * 0.34
    return [
        plate(
            text_x,
            baseline,
            text,
            size_px=sizes.text_px,
            bold=True,
            anchor="end",
            ground=sizes.ground,
        ),
        label(
            text_x, baseline, text, size_px=sizes.text_px, bold=True, anchor="end", colour=colour
        ),
        stroke(segment(x - bar_px, y, x, y), colour, max(2.0, sizes.text_px / 6)),
    ]


def _row_position(value: float, rows: Sequence[DotRow]) -> float:
    """Return where a value lies among evenly spaced rows, counted from 0 at the top row."""
    for index, (upper, lower) in enumerate(pairwise(rows)):
        low, high = sorted((upper.value, lower.value))
        if low <= value <= high and high > low:
            return index + (upper.value - value) / (upper.value - lower.value)
    ends = [(abs(row.value - value), index) for index, row in enumerate(rows)]
    return float(min(ends)[1])
