"""Where the names of a panel's zones stand: a panel and its frame come in, call-outs go out.

Names stand in a column at the panel's left; each has a line into its zone, so that the zones
themselves stay free for hits.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from journal.charts.drawing import circle, element, segment, stroke, text_width_px, words
from journal.charts.palette import INK, INK_2, SHEET
from journal.charts.panel_frames import PanelFrame
from journal.domain.numbers import show_number
from journal.domain.panels import Panel, Zone

_STEP_PX = 4.0
#: So that the dot at the line's end is clear of the zone's edge.
_STEPS_INSIDE = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Callout:
    """A name with its points, and the end of its line in the zone."""

    name: str
    points: str
    x_px: float
    y_px: float
    end_x_px: float
    has_line: bool


def write_callouts(panel: Panel, frame: PanelFrame, size_px: float) -> list[str]:
    """Write each zone's name and points, from the bare panel to the innermost zone.

    A zone too small or too hidden to lead a line to is left out.
    """
    parts: list[str] = []
    for callout in _find_callouts(panel, frame, size_px):
        room_px = _callout_width_px(callout.name, callout.points, size_px)
        if callout.x_px + room_px > callout.end_x_px:
            continue
        text_y_px = callout.y_px + size_px * 0.34
        if callout.has_line:
            line = segment(callout.x_px + room_px, callout.y_px, callout.end_x_px, callout.y_px)
            parts += [
                stroke(line, INK_2, 1),
                circle(callout.end_x_px, callout.y_px, 2.5, fill=INK_2),
            ]
        parts += [
            element(
                "rect",
                x=callout.x_px - 3,
                y=callout.y_px - size_px * 0.55,
                width=room_px - 2,
                height=size_px * 1.1,
                fill=SHEET,
                fill_opacity=0.82,
            ),
            element(
                "text",
                f"{words(callout.name)} ",
                element("tspan", words(callout.points), font_weight=700, fill=INK),
                x=callout.x_px,
                y=text_y_px,
                font_size=size_px,
                fill=INK_2,
            ),
        ]
    return parts


@lru_cache(maxsize=64)
def _find_callouts(panel: Panel, frame: PanelFrame, size_px: float) -> tuple[Callout, ...]:
    x_px = frame.left_px + size_px * 0.5
    y_px = frame.top_px + size_px * 1.1
    found: list[Callout] = []
    names: list[tuple[Zone | None, str, float]] = [(None, panel.bare_name, panel.bare_points)]
    names += [(zone, zone.name, zone.points) for zone in reversed(panel.zones)]
    for zone, name, points in names:
        if not name:
            continue
        text_end_px = x_px + _callout_width_px(name, show_number(points), size_px)
        place = _find_place(panel, frame, zone, (text_end_px, y_px))
        if place is None:
            continue
        end_px, y_px = place
        # The bare panel needs no line where its name stands on it anyway.
        own_ground = (
            zone is None and _zone_under(panel, frame, text_end_px - size_px * 0.6, y_px) is None
        )
        found.append(
            Callout(
                name=name,
                points=show_number(points),
                x_px=x_px,
                y_px=y_px,
                end_x_px=end_px,
                has_line=not own_ground,
            )
        )
        y_px += size_px * 1.5
    return tuple(found)


def _find_place(
    panel: Panel, frame: PanelFrame, zone: Zone | None, start: tuple[float, float]
) -> tuple[float, float] | None:
    """Return the first place right of and below the start that lies well inside the zone."""
    start_x_px, y_px = start
    bottom_px = frame.top_px + frame.height_px - 10
    while y_px < bottom_px:
        x_px, run = start_x_px + 4, 0
        while x_px < frame.left_px + frame.width_px:
            run = run + 1 if _zone_under(panel, frame, x_px, y_px) is zone else 0
            if run == _STEPS_INSIDE:
                return x_px, y_px
            x_px += _STEP_PX
        y_px += 2 * _STEP_PX
    return None


def _zone_under(panel: Panel, frame: PanelFrame, x_px: float, y_px: float) -> Zone | None:
    x_mm, y_mm = frame.to_mm(x_px, y_px)
    return next((zone for zone in panel.zones if zone.distance_mm(x_mm, y_mm) <= 0), None)


def _callout_width_px(name: str, points: str, size_px: float) -> float:
    return (
        text_width_px(f"{name} ", size_px)
        + text_width_px(points, size_px, bold=True)
        + size_px * 0.55
    )
