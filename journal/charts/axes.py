"""Axes of a drawing with two scales: scales and names come in, lines and figures go out."""

from __future__ import annotations

from dataclasses import dataclass

from journal.charts.drawing import fit_text, label, segment, stroke
from journal.charts.palette import INK_2, INK_3, RULE
from journal.charts.scales import Scale


@dataclass(frozen=True, slots=True, kw_only=True)
class Plot:
    """The field of a drawing, in px."""

    left_px: float
    top_px: float
    right_px: float
    bottom_px: float
    text_px: float


def write_left_axis(scale: Scale, plot: Plot, name: str) -> list[str]:
    """Write rules across the field with figures at its left, and the name above them."""
    size = plot.text_px * 0.9
    room_px = plot.right_px - 4
    parts = [label(0, plot.text_px, fit_text(name, size, room_px), size_px=size, colour=INK_2)]
    for tick in scale.ticks:
        y = scale.to_px(tick)
        parts += [
            stroke(segment(plot.left_px, y, plot.right_px, y), RULE, 1),
            label(plot.left_px - 8, y + size * 0.34, scale.tick_text(tick), size_px=size,
                  colour=INK_3, anchor="end"),
        ]  # fmt: skip
    return parts


def write_bottom_axis(scale: Scale, plot: Plot, name: str) -> list[str]:
    """Write ticks and figures under the field, and the name at their right below."""
    size = plot.text_px * 0.9
    y = plot.bottom_px
    parts = [stroke(segment(plot.left_px, y, plot.right_px, y), INK_2, 1.25)]
    for tick in scale.ticks:
        x = scale.to_px(tick)
        parts += [
            stroke(segment(x, y, x, y + 5), INK_2, 1),
            label(x, y + size * 1.5, scale.tick_text(tick), size_px=size, colour=INK_3,
                  anchor="middle"),
        ]  # fmt: skip
    name_y = y + size * 2.8
    parts.append(label(plot.right_px, name_y, name, size_px=size, colour=INK_2, anchor="end"))
    return parts
