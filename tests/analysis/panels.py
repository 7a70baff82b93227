"""A panel of concentric squares for the tests, with measures of our own invention."""

from __future__ import annotations

from journal.domain.panels import Panel, Zone, ZoneShape


def square_panel(*, mark_radius_mm: float = 0.0, line_touch: bool = False) -> Panel:
    """Return a panel of 600 mm with squares of 120, 240, 400 and 600 mm worth 8, 4, 2, 1."""
    return Panel(
        key="squares",
        width_mm=600.0,
        height_mm=600.0,
        aim_x_mm=300.0,
        aim_y_mm=300.0,
        zones=tuple(
            Zone(
                key=f"square_{side}",
                name=f"Square {side}",
                points=points,
                shape=ZoneShape.RECTANGLE,
                width_mm=float(side),
                height_mm=float(side),
            )
            for side, points in ((120, 8.0), (240, 4.0), (400, 2.0), (600, 1.0))
        ),
        bare_name="Edge",
        bare_points=0.0,
        wall_points=0.0,
        nowhere_points=0.0,
        wall_margin_mm=300.0,
        mark_radius_mm=mark_radius_mm,
        line_touch=line_touch,
    )


def ring_panel() -> Panel:
    """Return a panel of 500 mm with one ring of 100 mm radius and a bare rest worth 1."""
    return Panel(
        key="ring",
        width_mm=500.0,
        height_mm=500.0,
        aim_x_mm=250.0,
        aim_y_mm=250.0,
        zones=(Zone(key="ring", name="Ring", points=3.0, shape=ZoneShape.CIRCLE, radius_mm=100.0),),
        bare_name="Edge",
        bare_points=1.0,
        wall_points=0.0,
        nowhere_points=0.0,
        wall_margin_mm=300.0,
        mark_radius_mm=10.0,
        line_touch=True,
    )
