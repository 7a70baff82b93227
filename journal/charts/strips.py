"""Trials on a true scale, one strip a revision: values come in, dots over a line go out."""

from __future__ import annotations

from collections.abc import Sequence

from journal.charts.differences import Difference, describe_difference, write_difference
from journal.charts.drawing import draw, label, segment, stroke, text_width_px
from journal.charts.palette import INK_2, PAPER, RULE
from journal.charts.scales import Scale, fit_scale, known_values
from journal.charts.strip_marks import (
    Strip,
    StripTick,
    fit_stacking,
    strip_mean,
    write_strip,
    write_ticks,
)
from journal.charts.tables import NOTHING, ChartTable, cell, mean_text

__all__ = ["Strip", "StripTick", "draw_dot_strip", "strip_mean", "strip_table"]


def draw_dot_strip(
    strips: Sequence[Strip],
    *,
    ticks: Sequence[StripTick] = (),
    unit: str = "",
    width_px: float = 504,
    text_px: float = 16,
    show_mean: bool = False,
    difference: Difference | None = None,
    difference_name: str = "Difference",
    interval_name: str = "95 % interval, from the analysis",
    misfire_names: tuple[str, str] = ("misfire", "misfires"),
    ground: str = PAPER,
    ids: str = "strip",
    title: str = "Every trial on its scale",
    desc: str = "",
) -> str:
    """Draw one dot a trial where its value lies; equal or nearly equal values stand in stacks.

    `ticks` are the points of a panel; without them the scale has round ticks of its own, in `unit`.
    `show_mean` adds a short bar with its figure below each line, `difference` a line at the foot.
    """
    names = [text_width_px(strip.name, text_px, bold=True) for strip in strips]
    names += [text_width_px(strip.note, text_px * 0.9) for strip in strips]
    names += [
        text_width_px(f"{strip.misfires} {misfire_names[1]}", text_px * 0.9) + text_px * 1.2
        for strip in strips
        if strip.misfires
    ]
    names.append(text_width_px(difference_name, text_px) if difference else 0)
    left_px = min(width_px * 0.4, max(names, default=0)) + text_px * 1.2
    scale = _fit(strips, ticks, (left_px + text_px, width_px - text_px * 1.6))
    stacking = fit_stacking(strips, scale, min(5.0, text_px * 0.32))
    parts: list[str] = []
    y = text_px * 0.4
    for strip in strips:
        y, written = write_strip(
            strip,
            scale,
            (left_px, width_px, y),
            stacking,
            text_px,
            show_mean=show_mean,
            misfire_names=misfire_names,
        )
        parts += written
    is_empty = not any(known_values(strip.values) for strip in strips)
    if is_empty:
        y += text_px * 1.4
        parts.append(label(left_px, y, "No trials yet", size_px=text_px, colour=INK_2))
    if ticks or not is_empty:
        xs = [scale.to_px(tick) for tick in scale.ticks]
        guides = [stroke(segment(x, 4, x, y), RULE, 1) for x in xs]
        y, written = write_ticks(scale, ticks, unit, y, text_px)
        parts = [*guides, *parts, *written]
    if difference is not None:
        more, height_px = write_difference(
            difference, (left_px, width_px, y + text_px), text_px=text_px, name=difference_name,
            interval_name=interval_name, ground=ground,
        )  # fmt: skip
        parts += more
        y += text_px + height_px
    return draw(
        *parts,
        width_px=width_px,
        height_px=y + text_px * 0.4,
        title=title,
        desc=desc or _describe(strips, unit, difference, show_mean=show_mean),
        ids=ids,
    )


def strip_table(
    strips: Sequence[Strip], *, show_mean: bool = False, caption: str = "Trials"
) -> ChartTable:
    """Return each strip's values in rising order."""
    rows = []
    for strip in strips:
        values = known_values(strip.values)
        mean = strip_mean(strip)
        listed = ", ".join(cell(value, 2) for value in sorted(values)) or NOTHING
        means = (NOTHING if mean is None else mean_text(mean),) if show_mean else ()
        rows.append((strip.name, str(len(values)), listed, str(strip.misfires), *means))
    header = ("Revision", "Trials", "Values", "Misfires", *(("Mean",) if show_mean else ()))
    return ChartTable(caption=caption, header=header, rows=tuple(rows))


def _describe(
    strips: Sequence[Strip], unit: str, difference: Difference | None, *, show_mean: bool
) -> str:
    sentences = []
    for strip in strips:
        values = sorted(known_values(strip.values))
        listed = ", ".join(cell(value, 2) for value in values)
        text = f"{strip.name}: {listed} {unit}".rstrip() if values else f"{strip.name}: no trials"
        mean = strip_mean(strip) if show_mean else None
        text += f"; mean {mean_text(mean)}" if mean is not None else ""
        text += f"; misfires {strip.misfires}" if strip.misfires else ""
        sentences.append(f"{text}.")
    if difference is not None:
        sentences.append(describe_difference(difference))
    return " ".join(sentences) or "No trials yet."


def _fit(strips: Sequence[Strip], ticks: Sequence[StripTick], ends: tuple[float, float]) -> Scale:
    values = [value for strip in strips for value in known_values(strip.values)]
    named = sorted({tick.value for tick in ticks})
    if len(named) > 1 and all(named[0] <= value <= named[-1] for value in values):
        return Scale(
            low=named[0], high=named[-1], start_px=ends[0], end_px=ends[1], ticks=tuple(named)
        )
    return fit_scale(values, *ends)
