"""The family of revisions: each with its parent comes in, lines with discs go out.

A shared part has ink discs on a heavy line, an own part paper discs on a thin one. Another parent
than the one before: the line arches over. Set aside: an end bar. Being built: dashed.
"""

from __future__ import annotations

from collections.abc import Sequence

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
from journal.charts.family_tables import (
    FamilyLine,
    FamilyMark,
    describe_family,
    family_table,
)
from journal.charts.palette import INK, INK_2, MADDER, PAPER, SHEET

__all__ = [
    "FamilyLine",
    "FamilyMark",
    "describe_family",
    "draw_family",
    "family_table",
    "write_family",
]


def draw_family(
    lines: Sequence[FamilyLine],
    *,
    width_px: float = 932,
    text_px: float = 18,
    ground: str = PAPER,
    ids: str = "family",
    title: str = "Family of revisions",
    desc: str = "",
) -> str:
    """Draw the lines of all parts under each other, shared ones first as given, time to the right.

    Revisions of different parts stand in the order in which they were made.
    """
    names = [text_width_px(line.name, text_px, bold=line.shared) for line in lines]
    left_px = max([60.0, *names]) + 30
    orders = sorted({mark.order for line in lines for mark in line.marks})
    step_px = (width_px - left_px - text_px * 5) / max(1, len(orders) - 1)
    place = {order: left_px + index * min(step_px, 200) for index, order in enumerate(orders)}
    parts: list[str] = []
    y = 0.0
    for line in lines:
        y += text_px * (2.1 if line.shared else 1.2)
        radius = text_px * (0.78 if line.shared else 0.5)
        xs = [place[mark.order] for mark in line.marks]
        colour = INK if line.shared else INK_2
        name_y = y + text_px * 0.34
        parts.append(label(0, name_y, line.name, size_px=text_px, colour=colour, bold=line.shared))
        if line.marks and not line.shared:
            parts.append(stroke(segment(xs[0], y, width_px, y), INK_2, 1.25))
        parts += write_family(line.marks, xs, y, radius, shared=line.shared, ground=ground)
        parts += _captions(line, xs, y, (radius, text_px, width_px), ground)
        y += text_px * (1.7 if line.shared else 0)
    if not lines:
        parts.append(label(0, text_px * 1.2, "No revisions yet", size_px=text_px, colour=INK_2))
    return draw(
        *parts,
        width_px=width_px,
        height_px=y + text_px * 0.8 if lines else text_px * 2,
        title=title,
        desc=desc or describe_family(lines),
        ids=ids,
    )


def write_family(
    marks: Sequence[FamilyMark],
    xs: Sequence[float],
    y: float,
    radius: float,
    *,
    shared: bool,
    ground: str = PAPER,
) -> list[str]:
    """Write one part's line and discs at the given places, to stand alone or above other data."""
    heavy = radius * 0.21 if shared else max(1.1, radius * 0.13)
    parts = []
    for index, mark in enumerate(marks):
        if mark.parent is None or mark.parent >= index:
            continue
        colour = MADDER if mark.being_built else INK if shared else INK_2
        dashes = "5 5" if mark.being_built else None
        end = xs[index]
        # A parent on an earlier band of the drawing: the line comes in from the left.
        start = xs[mark.parent] if mark.parent >= 0 else end - radius * 2
        if mark.parent < 0 or mark.parent == index - 1:
            data = segment(start, y, end, y)
        else:
            data = _arch(start, end, y, radius * (1.0 if shared else 0.65))
        parts.append(stroke(data, colour, heavy, stroke_dasharray=dashes))
    for mark, x in zip(marks, xs, strict=True):
        if mark.set_aside:
            bar_x = x + radius * 2.1
            bar = (
                f"{segment(x, y, bar_x, y)}{segment(bar_x, y - radius / 2, bar_x, y + radius / 2)}"
            )
            parts.append(stroke(bar, INK if shared else INK_2, max(1.5, heavy)))
    for mark, x in zip(marks, xs, strict=True):
        parts += _disc(mark, (x, y), radius, shared=shared, ground=ground)
    return parts


def _arch(start: float, end: float, y: float, radius: float) -> str:
    bend = min(radius * 3.4, (end - start) / 3)
    top = figure(max(2.0, y - radius * 1.8))
    return (
        f"M{figure(start)} {figure(y)}C{figure(start + bend)} {figure(y)} "
        f"{figure(start + bend * 0.8)} {top} {figure(start + 2 * bend * 0.9)} {top}"
        f"H{figure(end - 2 * bend * 0.9)}C{figure(end - bend * 0.8)} {top} "
        f"{figure(end - bend)} {figure(y)} {figure(end)} {figure(y)}"
    )


def _disc(
    mark: FamilyMark, place: tuple[float, float], radius: float, *, shared: bool, ground: str
) -> list[str]:
    x, y = place
    colour = MADDER if mark.newest or mark.being_built else INK
    solid = shared and not mark.being_built
    size_px = radius * (1.3 if len(mark.label) == 1 else 1.05)
    # The newest stays larger, so that one ink shows it as well.
    drawn = radius * (1.14 if mark.newest else 1.0)
    return [
        circle(x, y, drawn + 1.5, fill=ground),
        circle(x, y, drawn, fill=colour if solid else SHEET, stroke=colour,
               stroke_width=0 if solid else max(1.4, radius / 6),
               stroke_dasharray="3 2.5" if mark.being_built else None),
        label(x, y + size_px * 0.35, mark.label, size_px=size_px, bold=True, anchor="middle",
              colour=PAPER if solid else colour),
    ]  # fmt: skip


def _captions(
    line: FamilyLine,
    xs: Sequence[float],
    y: float,
    sizes: tuple[float, float, float],
    ground: str,
) -> list[str]:
    """Write what changed: below a shared part's disc, beside an own part's on its line."""
    radius, text_px, width_px = sizes
    parts = []
    for index, (mark, x) in enumerate(zip(line.marks, xs, strict=True)):
        next_x = xs[index + 1] if index + 1 < len(xs) else width_px
        left = x - radius if line.shared else x + radius + 6
        text = fit_text(mark.caption, text_px, next_x - left - radius - 4, bold=mark.newest)
        if not text:
            continue
        colour = MADDER if mark.newest and line.shared else INK_2
        baseline = y + (radius + text_px * 1.1 if line.shared else text_px * 0.34)
        if not line.shared:
            parts.append(plate(left, baseline, text, size_px=text_px, ground=ground))
        parts.append(label(left, baseline, text, size_px=text_px, colour=colour,
                           bold=mark.newest and line.shared))  # fmt: skip
    return parts
