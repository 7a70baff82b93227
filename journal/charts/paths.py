"""The path of a group through the six stages: its steps come in, a walked line goes out.

Going back is walking: one line of one weight, in every direction.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from journal.charts.drawing import (
    circle,
    draw,
    figure,
    fit_text,
    label,
    plate,
    segment,
    stroke,
    text_width_px,
)  # fmt: skip
from journal.charts.palette import INK, INK_2, MADDER, PAPER, RULE
from journal.charts.path_tables import PathStep, describe_path, path_table
from journal.charts.stages import STAGE_NAMES, stage_sign
from journal.domain.stages import Stage

STAGES = tuple(Stage)


__all__ = ["PathStep", "describe_path", "draw_path", "draw_small_path", "path_table"]


def draw_path(
    steps: Sequence[PathStep],
    *,
    width_px: float = 932,
    row_px: float = 22,
    text_px: float = 18,
    next_stage: Stage | None = None,
    names: Mapping[Stage, str] | None = None,
    ground: str = PAPER,
    ids: str = "path",
    title: str = "Path through the six stages",
    desc: str = "",
) -> str:
    """Draw six rows, one a stage, and the line that the group walked, time to the right.

    The last step is where the group is now. `next_stage` adds a dashed step that is not yet.
    """
    named = STAGE_NAMES | dict(names or {})
    head_px = text_px + 22
    left_px = 36 + max(text_width_px(name, text_px, bold=True) for name in named.values()) + 16
    top_px = head_px
    height_px = top_px + 5 * row_px + row_px * 0.75
    present = steps[-1].stage if steps else None
    parts = []
    for row, stage in enumerate(STAGES):
        y = top_px + row * row_px
        is_now = stage is present
        colour = MADDER if is_now else INK
        parts += [
            stroke(segment(left_px, y, width_px, y), RULE, 1),
            stage_sign(stage, 0, y - row_px / 2, min(24.0, row_px), colour),
            label(36, y + text_px * 0.34, named[stage], size_px=text_px, colour=colour,
                  bold=is_now),
        ]  # fmt: skip
    xs = _step_xs(len(steps) + (next_stage is not None), left_px + 20, width_px - 20)
    ys = [top_px + STAGES.index(step.stage) * row_px for step in steps]
    parts += _sessions(steps, xs, (left_px, width_px, height_px), text_px)
    step_px = xs[1] - xs[0] if len(xs) > 1 else 60.0
    radius = max(2.5, min(5.5, step_px / 5))
    if next_stage is not None and steps:
        next_y = top_px + STAGES.index(next_stage) * row_px
        ahead = _walk([(xs[-2], ys[-1]), (xs[-1], next_y)])
        parts += [
            stroke(ahead, INK_2, 1.8, stroke_dasharray="5 5"),
            circle(xs[-1], next_y, radius, fill=ground, stroke=INK_2, stroke_width=1.6,
                   stroke_dasharray="3 3"),
        ]  # fmt: skip
    points = list(zip(xs, ys, strict=False))
    parts.append(stroke(_walk(points), INK, 3, stroke_linecap="round") if len(points) > 1 else "")
    for step, (x, y) in zip(steps, points, strict=True):
        parts.append(circle(x, y, radius, fill=INK, stroke=ground, stroke_width=2.5))
        if step.note:
            note_y = y - radius - 6
            parts += [
                plate(x, note_y, step.note, size_px=text_px, bold=True, anchor="middle",
                      ground=ground),
                label(x, note_y, step.note, size_px=text_px, bold=True, anchor="middle"),
            ]  # fmt: skip
    if not points:
        parts.append(
            label(left_px + 20, text_px + 1, "Not begun yet", size_px=text_px, colour=INK_2)
        )
    if points:
        parts.append(circle(*points[-1], radius * 1.55, fill=MADDER,
                            stroke=ground, stroke_width=2.5))  # fmt: skip
    return draw(
        *parts,
        width_px=width_px,
        height_px=height_px,
        title=title,
        desc=desc or describe_path(steps, named),
        ids=ids,
    )


def draw_small_path(
    steps: Sequence[PathStep],
    *,
    width_px: float = 200,
    height_px: float = 76,
    ground: str = PAPER,
    ids: str = "small-path",
    title: str = "Path through the six stages",
    desc: str = "",
) -> str:
    """Draw the walked line alone, for one row of the class overview."""
    top_px, row_px = height_px * 0.14, height_px * 0.72 / 5
    parts = [
        stroke(segment(0, top_px + row * row_px, width_px, top_px + row * row_px), RULE, 0.75)
        for row in range(len(STAGES))
    ]
    xs = _step_xs(len(steps), 6, width_px - 8)
    points = [
        (x, top_px + STAGES.index(step.stage) * row_px) for x, step in zip(xs, steps, strict=True)
    ]
    if len(points) > 1:
        parts.append(stroke(_walk(points), INK, 1.75))
    if points:
        parts.append(circle(*points[-1], 5, fill=MADDER, stroke=ground, stroke_width=2))
    return draw(
        *parts,
        width_px=width_px,
        height_px=height_px,
        title=title,
        desc=desc or describe_path(steps),
        ids=ids,
    )


def _step_xs(count: int, left_px: float, right_px: float) -> list[float]:
    """Return where the steps stand: evenly, and no farther apart than a finger."""
    step_px = min(56.0, (right_px - left_px) / max(1, count - 1))
    return [left_px + index * step_px for index in range(count)]


def _walk(points: Sequence[tuple[float, float]]) -> str:
    """Return a line that leaves and reaches every step level."""
    if not points:
        return ""
    data = f"M{figure(points[0][0])} {figure(points[0][1])}"
    for (x1, y1), (x2, y2) in pairwise(points):
        half = figure((x1 + x2) / 2)
        data += f"C{half} {figure(y1)} {half} {figure(y2)} {figure(x2)} {figure(y2)}"
    return data


def _sessions(
    steps: Sequence[PathStep],
    xs: Sequence[float],
    box: tuple[float, float, float],
    text_px: float,
) -> list[str]:
    """Write the sessions' names with a dotted line before each but the first."""
    left_px, right_px, bottom_px = box
    starts = [
        index
        for index, step in enumerate(steps)
        if step.session and (index == 0 or step.session != steps[index - 1].session)
    ]
    parts = []
    for order, index in enumerate(starts):
        line_x = left_px if index == 0 else (xs[index - 1] + xs[index]) / 2
        if index:
            dotted = segment(line_x, 6, line_x, bottom_px - 4)
            parts.append(stroke(dotted, INK_2, 1, stroke_dasharray="1.5 4.5"))
        end_x = (
            (xs[starts[order + 1] - 1] + xs[starts[order + 1]]) / 2
            if order + 1 < len(starts)
            else right_px
        )
        name = fit_text(steps[index].session, text_px, end_x - line_x - 14)
        if name:
            parts.append(label(line_x + 10, text_px + 1, name, size_px=text_px, colour=INK_2))
    return parts
