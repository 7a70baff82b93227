"""The panel with its hits: a panel in mm and hits come in, one drawing goes out."""

from __future__ import annotations

from collections.abc import Sequence

from journal.charts.callouts import write_callouts
from journal.charts.drawing import (
    Attribute,
    circle,
    draw,
    element,
    label,
    outline,
    rectangle,
    stroke,
)
from journal.charts.hits import Hit, middle_mm, write_hit, write_middle, write_stem
from journal.charts.palette import EDGE, INK, INK_2, INK_3, SHEET, SUNK, SUNK_2
from journal.charts.panel_frames import PanelFrame, panel_frame
from journal.charts.panel_tables import describe_hits, panel_table
from journal.charts.tables import cell
from journal.domain.panels import Panel, Zone, ZoneShape

__all__ = ["describe_hits", "draw_panel", "panel_table"]

#: Steps of the printed sheets that make a panel, each sheet overlapping the next.
SHEET_WIDTH_MM = 240.0
SHEET_HEIGHT_MM = 180.0


def draw_panel(
    panel: Panel,
    hits: Sequence[Hit],
    *,
    width_px: float,
    height_px: float,
    labels: bool = True,
    wall: bool = True,
    middle: bool = False,
    text_px: float = 18,
    wall_name: str = "Wall",
    ids: str = "panel",
    title: str = "Panel",
    desc: str = "",
) -> str:
    """Draw a panel with its zones, the wall around it and the hits.

    Hits without a place, or beyond what is drawn, are counted in the description. `middle` adds the
    middle of the hits that are not behind. `panel_frame` with the same panel, size and `wall` tells
    where mm lie. `ids` must differ between drawings of one page; the hits' group is `ids`-hits.
    """
    frame = panel_frame(panel, width_px, height_px, wall=wall)
    radius = min(9.0, max(2.6, frame.width_px * 0.022))
    drawn = [hit for hit in hits if _is_drawn(hit, panel, wall=wall)]
    parts = [
        *(_wall(panel, frame, wall_name if labels else "", text_px) if wall else ()),
        *_zones(panel, frame),
        *_joins(panel, frame),
        *(write_callouts(panel, frame, text_px) if labels else ()),
    ]
    # Pale ones first and the newest last, so that it lies on top.
    ordered = sorted(drawn, key=lambda hit: (hit.newest, not hit.behind))
    marks = [part for hit in ordered for part in write_stem(hit, frame, radius, text_px + 2)]
    marks += [part for hit in ordered for part in write_hit(hit, frame, radius, text_px + 2)]
    found = middle_mm(drawn) if middle else None
    if found is not None:
        marks += write_middle(found, frame, radius)
    parts.append(element("g", *marks, id=f"{ids}-hits"))
    return draw(
        *parts,
        width_px=width_px,
        height_px=height_px,
        title=title,
        desc=desc or describe_hits(panel, hits, drawn=len(drawn)),
        ids=ids,
    )


def _is_drawn(hit: Hit, panel: Panel, *, wall: bool) -> bool:
    place = hit.place_mm
    if place is None:
        return False
    return panel.wall_holds(*place) if wall else panel.holds(*place)


def _wall(panel: Panel, frame: PanelFrame, name: str, size_px: float) -> list[str]:
    parts = [
        rectangle(
            frame.wall_left_px,
            frame.wall_top_px,
            frame.wall_width_px,
            frame.wall_height_px,
            fill="none",
            stroke=EDGE,
            stroke_width=1.5,
            stroke_dasharray="1.5 5.5",
        )
    ]
    margin_px = frame.left_px - frame.wall_left_px
    if name and margin_px >= size_px * 2.6:
        for x in (frame.left_px - margin_px / 2, frame.left_px + frame.width_px + margin_px / 2):
            y = frame.top_px + size_px * 1.3  # high up, out of the way of the newest hit's words
            points = cell(panel.wall_points)
            parts += [
                label(x, y - size_px * 0.3, name, size_px=size_px, colour=INK_2, anchor="middle"),
                label(x, y + size_px, points, size_px=size_px, bold=True, anchor="middle"),
            ]
    return parts


def _zones(panel: Panel, frame: PanelFrame) -> list[str]:
    box = (frame.left_px, frame.top_px, frame.width_px, frame.height_px)
    parts = [rectangle(*box, fill=SHEET)]
    # The zone listed first takes a hit, so it is drawn last.
    for depth, zone in enumerate(reversed(panel.zones)):
        innermost = depth == len(panel.zones) - 1
        tone = SHEET if innermost and depth else (SUNK, SUNK_2)[depth % 2]
        firm = max(1.2, min(2.5, frame.width_px / 180)) if innermost else 1.25
        parts.append(_zone(zone, frame, tone, INK if innermost else INK_2, firm))
    return [*parts, rectangle(*box, fill="none", stroke=INK, stroke_width=1.5)]


def _zone(zone: Zone, frame: PanelFrame, tone: str, line: str, width: float) -> str:
    scale = frame.scale_px_per_mm
    x, y = frame.to_px(zone.centre_x_mm, zone.centre_y_mm)
    paint: dict[str, Attribute] = {
        "fill": tone,
        "stroke": line,
        "stroke_width": width,
        "stroke_linejoin": "round",
    }
    if zone.shape is ZoneShape.CIRCLE:
        return circle(x, y, zone.radius_mm * scale, **paint)
    if zone.shape is ZoneShape.RECTANGLE:
        zone_width, zone_height = zone.width_mm * scale, zone.height_mm * scale
        corner = min(zone.corner_mm * scale, zone_width / 2, zone_height / 2)
        left, top = x - zone_width / 2, y - zone_height / 2
        return rectangle(left, top, zone_width, zone_height, rx=corner or None, **paint)
    corners = (frame.to_px(*corner) for corner in zone.corners_mm)
    return element("path", d=outline(corners), **paint)


def _joins(panel: Panel, frame: PanelFrame) -> list[str]:
    """Write ticks outside the edges where printed sheets join."""
    tick = min(7.0, max(3.0, frame.width_px / 60))
    right, bottom = frame.left_px + frame.width_px, frame.top_px + frame.height_px
    parts = []
    for step in range(1, _joins_within(panel.width_mm, SHEET_WIDTH_MM) + 1):
        x = frame.left_px + step * SHEET_WIDTH_MM * frame.scale_px_per_mm
        parts.append(f"M{x:.2f} {frame.top_px:.2f}v{-tick:.2f}M{x:.2f} {bottom:.2f}v{tick:.2f}")
    for step in range(1, _joins_within(panel.height_mm, SHEET_HEIGHT_MM) + 1):
        y = frame.top_px + step * SHEET_HEIGHT_MM * frame.scale_px_per_mm
        parts.append(f"M{frame.left_px:.2f} {y:.2f}h{-tick:.2f}M{right:.2f} {y:.2f}h{tick:.2f}")
    return [stroke("".join(parts), INK_3, 1)] if parts else []


def _joins_within(length_mm: float, step_mm: float) -> int:
    """Return how many joins lie strictly inside a length."""
    count = int(length_mm // step_mm)
    return count - 1 if count and count * step_mm == length_mm else count
