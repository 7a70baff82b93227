"""A sketch on a sheet: checked strokes and a group's name come in, a drawing goes out."""

from __future__ import annotations

from journal.charts.drawing import circle, draw, figure, rectangle, stroke
from journal.charts.palette import INK, INK_3, SHEET
from journal.domain.sketches import GRID_HEIGHT, GRID_WIDTH, Point, Sketch

#: Thin enough for two lines side by side, thick enough for paper in grey.
_LINE_PX = 2.0


def draw_sketch(sketch: Sketch, *, group: str, width_px: float = 320, ids: str = "") -> str:
    """Draw a sketch `width_px` wide, in the proportions of its grid."""
    scale = width_px / GRID_WIDTH
    height_px = GRID_HEIGHT * scale
    drawn = [_draw_stroke(line, scale) for line in sketch.strokes]
    return draw(
        rectangle(0.5, 0.5, width_px - 1, height_px - 1, fill=SHEET, stroke=INK_3),
        *drawn,
        width_px=width_px,
        height_px=height_px,
        title=f"Sketch by {group}",
        desc="1 stroke." if len(drawn) == 1 else f"{len(drawn)} strokes.",
        ids=ids,
    )


def _draw_stroke(points: tuple[Point, ...], scale: float) -> str:
    placed = [(x * scale, y * scale) for x, y in points]
    if len(set(placed)) == 1:
        # A tap leaves a dot: a line without length would not show.
        return circle(*placed[0], _LINE_PX, fill=INK)
    path = "M" + "L".join(f"{figure(x, 1)} {figure(y, 1)}" for x, y in placed)
    return stroke(path, INK, _LINE_PX, stroke_linecap="round", stroke_linejoin="round")
