"""Box plots: five numbers and the trials come in, a box with its dots goes out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from journal.charts.axes import Plot, write_bottom_axis
from journal.charts.drawing import (
    circle,
    draw,
    fit_text,
    label,
    rectangle,
    segment,
    stroke,
    text_width_px,
)
from journal.charts.palette import INK, INK_2, MADDER, PAPER, RULE, SUNK_2
from journal.charts.scales import Scale, fit_scale, known_values, stack_px
from journal.charts.tables import ChartTable, cell

_FIVE = 5
_HIGHEST_STACK = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """One revision: ends of the whiskers, quartiles, median and every trial."""

    name: str
    lowest: float
    lower_quartile: float
    median: float
    upper_quartile: float
    highest: float
    values: tuple[float, ...]
    #: Values beyond the whiskers, drawn as rings as well.
    striking: tuple[float, ...] = ()
    newest: bool = False

    @property
    def five(self) -> tuple[float, ...]:
        """Return the five numbers from the lowest up, fewer where one cannot be drawn."""
        return known_values(
            (self.lowest, self.lower_quartile, self.median, self.upper_quartile, self.highest)
        )


def draw_boxes(
    boxes: Sequence[Box],
    *,
    value_name: str = "Points",
    width_px: float = 632,
    text_px: float = 16,
    ground: str = PAPER,
    ids: str = "boxes",
    title: str = "Box plot",
    desc: str = "",
) -> str:
    """Draw each revision's box over its dots, on one scale; the box follows from the dots."""
    names = [text_width_px(box.name, text_px, bold=True) for box in boxes]
    left_px = min(width_px * 0.35, max(names, default=0)) + text_px
    row_px = text_px * 5
    plot = Plot(
        left_px=left_px,
        top_px=text_px * 0.5,
        right_px=width_px - text_px,
        bottom_px=text_px * 0.5 + max(1, len(boxes)) * row_px,
        text_px=text_px,
    )
    every = [value for box in boxes for value in (*box.five, *known_values(box.values))]
    scale = fit_scale(every, left_px + 8, plot.right_px - 8)
    parts = [
        stroke(segment(scale.to_px(tick), plot.top_px, scale.to_px(tick), plot.bottom_px), RULE, 1)
        for tick in (scale.ticks if every else ())
    ]
    for index, box in enumerate(boxes):
        top_px = plot.top_px + index * row_px
        colour = MADDER if box.newest else INK
        name = fit_text(box.name, text_px, left_px - 8, bold=True)
        parts.append(
            label(0, top_px + row_px * 0.36, name, size_px=text_px, colour=colour, bold=True)
        )
        parts += _box(box, scale, top_px + row_px * 0.28, text_px, colour)
        parts += _dots(box, scale, top_px + row_px * 0.84, colour, ground)
    if not every:
        parts.append(label(left_px + 16, plot.top_px + row_px / 2, "No trials yet",
                           size_px=text_px, colour=INK_2))  # fmt: skip
    parts += write_bottom_axis(scale, plot, value_name) if every else []
    return draw(
        *parts,
        width_px=width_px,
        height_px=plot.bottom_px + text_px * 3.2,
        title=title,
        desc=desc or " ".join(_describe(box) for box in boxes) or "No trials yet.",
        ids=ids,
    )


def box_table(boxes: Sequence[Box], *, caption: str = "Quartiles") -> ChartTable:
    """Return each revision's five numbers."""
    return ChartTable(
        caption=caption,
        header=("Revision", "Trials", "Lowest", "Lower quartile", "Median", "Upper quartile",
                "Highest", "Striking"),
        rows=tuple(
            (
                box.name,
                str(len(known_values(box.values))),
                cell(box.lowest, 2),
                cell(box.lower_quartile, 2),
                cell(box.median, 2),
                cell(box.upper_quartile, 2),
                cell(box.highest, 2),
                ", ".join(cell(value, 2) for value in known_values(box.striking)) or "none",
            )
            for box in boxes
        ),
    )  # fmt: skip


def _describe(box: Box) -> str:
    if len(box.five) < _FIVE:
        return f"{box.name}: too few trials for a box."
    lowest, lower, median, upper, highest = (cell(value, 2) for value in box.five)
    striking = ", ".join(cell(value, 2) for value in known_values(box.striking))
    words = f"{box.name}: {lowest} to {highest}, half between {lower} and {upper}, median {median}"
    return f"{words}; striking {striking}." if striking else f"{words}."


def _box(box: Box, scale: Scale, y: float, text_px: float, colour: str) -> list[str]:
    if len(box.five) < _FIVE:
        return []
    lowest, lower, median, upper, highest = (scale.to_px(value) for value in box.five)
    half = text_px * 0.75
    whiskers = segment(lowest, y, lower, y) + segment(upper, y, highest, y)
    whiskers += "".join(segment(x, y - half / 2, x, y + half / 2) for x in (lowest, highest))
    return [
        stroke(whiskers, colour, 1.5),
        rectangle(lower, y - half, max(0.5, upper - lower), 2 * half, fill=SUNK_2, stroke=colour,
                  stroke_width=1.5),
        stroke(segment(median, y - half, median, y + half), colour, 3.5),
        *(
            circle(scale.to_px(value), y, 4.5, fill="none", stroke=colour, stroke_width=1.5)
            for value in known_values(box.striking)
        ),
    ]  # fmt: skip


def _dots(box: Box, scale: Scale, y: float, colour: str, ground: str) -> list[str]:
    radius = 3.4
    stacks = stack_px((scale.to_px(value) for value in known_values(box.values)), radius * 2)
    most = max((count for _, count in stacks), default=1)
    rise = radius * 2 * min(1.0, _HIGHEST_STACK / most)
    return [
        circle(x, y - place * rise, radius, fill=colour, stroke=ground, stroke_width=0.75)
        for x, count in stacks
        for place in range(count)
    ]
