"""How a panel in mm lies in a drawing in px: a panel and a size come in, a frame goes out."""

from __future__ import annotations

from dataclasses import dataclass

from journal.domain.panels import Panel

#: Room for the dotted line and for the ticks of the sheets' joins.
EDGE_PX = 9.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelFrame:
    """Where mm lie in px: x to the right in both, y up in mm and down in px."""

    scale_px_per_mm: float
    #: The aim point, origin of the mm.
    aim_x_px: float
    aim_y_px: float
    #: The panel's left and top edge, width and height.
    left_px: float
    top_px: float
    width_px: float
    height_px: float
    #: The wall that can be tapped; equal to the panel where no wall is drawn.
    wall_left_px: float
    wall_top_px: float
    wall_width_px: float
    wall_height_px: float

    def to_px(self, x_mm: float, y_mm: float) -> tuple[float, float]:
        """Return where a place on the panel lies in the drawing."""
        scale = self.scale_px_per_mm
        return self.aim_x_px + x_mm * scale, self.aim_y_px - y_mm * scale

    def to_mm(self, x_px: float, y_px: float) -> tuple[float, float]:
        """Return which place on the panel a point of the drawing is."""
        scale = self.scale_px_per_mm
        return (x_px - self.aim_x_px) / scale, (self.aim_y_px - y_px) / scale


def panel_frame(
    panel: Panel, width_px: float, height_px: float, *, wall: bool = True
) -> PanelFrame:
    """Fit a panel, with the wall around it or without, into a drawing, in the middle."""
    margin_mm = panel.wall_margin_mm if wall else 0.0
    room_x_px = max(1.0, width_px - 2 * EDGE_PX)
    room_y_px = max(1.0, height_px - 2 * EDGE_PX)
    scale = min(
        room_x_px / (panel.width_mm + 2 * margin_mm), room_y_px / (panel.height_mm + 2 * margin_mm)
    )
    panel_width_px, panel_height_px = panel.width_mm * scale, panel.height_mm * scale
    left_px, top_px = (width_px - panel_width_px) / 2, (height_px - panel_height_px) / 2
    margin_px = margin_mm * scale
    return PanelFrame(
        scale_px_per_mm=scale,
        aim_x_px=left_px + panel.aim_x_mm * scale,
        aim_y_px=top_px + panel_height_px - panel.aim_y_mm * scale,
        left_px=left_px,
        top_px=top_px,
        width_px=panel_width_px,
        height_px=panel_height_px,
        wall_left_px=left_px - margin_px,
        wall_top_px=top_px - margin_px,
        wall_width_px=panel_width_px + 2 * margin_px,
        wall_height_px=panel_height_px + 2 * margin_px,
    )
