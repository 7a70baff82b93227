"""Read the panel of a challenge: a table of a document in, a Panel out."""

from __future__ import annotations

from journal.domain.documents import Table
from journal.domain.panels import Panel, Zone, ZoneShape

#: How far a zone may stick out before it is called outside: below what paper can show.
SLACK_MM = 0.01

#: No panel reaches so far: a kilometre, and a guard against infinity.
FARTHEST_MM = 1_000_000.0


def read_panel(table: Table) -> Panel:
    """Read a panel and its zones; whatever is wrong is noted in the table's reading."""
    width_mm = table.number("width_mm", "the panel's width in mm", above=0)
    height_mm = table.number("height_mm", "the panel's height in mm", above=0)
    panel = Panel(
        key=table.key("a short name for the panel"),
        width_mm=width_mm,
        height_mm=height_mm,
        aim_x_mm=table.number("aim_x_mm", "the aim point from the left edge", width_mm / 2),
        aim_y_mm=table.number("aim_y_mm", "the aim point from the foot", height_mm / 2),
        zones=tuple(_read_zone(row) for row in table.tables("zones", "at least one zone")),
        bare_name=table.text("bare_name", "what the panel outside all zones is called"),
        bare_points=table.number("bare_points", "the points of the panel outside all zones"),
        wall_points=table.number("wall_points", "the points of a hit on the wall", 0.0),
        nowhere_points=table.number("nowhere_points", "the points where nothing was hit", 0.0),
        wall_margin_mm=table.number("wall_margin_mm", "how much wall can be tapped", lowest=0),
        mark_radius_mm=table.number("mark_radius_mm", "the radius of a usual mark", lowest=0),
        line_touch=table.flag("line_touch", "true where a mark on a line takes the inner zone"),
    )
    _check_inside(table, panel)
    table.finish()
    return panel


def _read_zone(row: Table) -> Zone:
    shape = row.choice("shape", ZoneShape)
    zone = Zone(
        key=row.key("a short name for the zone"),
        name=row.text("name", "the zone's name on the screen"),
        points=row.number("points", "what a hit in the zone is worth"),
        shape=shape,
        centre_x_mm=row.number("centre_x_mm", "x of the zone's middle from the aim point", 0.0),
        centre_y_mm=row.number("centre_y_mm", "y of the zone's middle from the aim point", 0.0),
        width_mm=_size(row, "width_mm", wanted=shape is ZoneShape.RECTANGLE),
        height_mm=_size(row, "height_mm", wanted=shape is ZoneShape.RECTANGLE),
        corner_mm=row.number("corner_mm", "the radius of the rounded corners", 0.0, lowest=0),
        radius_mm=_size(row, "radius_mm", wanted=shape is ZoneShape.CIRCLE),
        corners_mm=_read_corners(row, wanted=shape is ZoneShape.POLYGON),
    )
    row.finish()
    return zone


def _size(row: Table, key: str, *, wanted: bool) -> float:
    if wanted:
        return row.number(key, "a length in mm above 0", above=0)
    return 0.0


def _read_corners(row: Table, *, wanted: bool) -> tuple[tuple[float, float], ...]:
    if not wanted:
        return ()
    value = row.any_value("corners_mm")
    hint = "at least three [x, y] pairs in mm from the aim point"
    if not isinstance(value, list | tuple):
        row.note("corners_mm", f"is missing. Add {hint}.")
        return ()
    corners = [_find_pair(pair) for pair in value]
    whole = tuple(pair for pair in corners if pair is not None)
    least = 3
    if len(whole) < len(corners) or len(whole) < least:
        row.note("corners_mm", f"cannot be read. Write {hint}.")
        return ()
    if any(
        corner == next_corner
        for corner, next_corner in zip(whole, whole[1:] + whole[:1], strict=True)
    ):
        row.note("corners_mm", "names one corner twice in a row. Take one of them out.")
        return ()
    return whole


def _find_pair(pair: object) -> tuple[float, float] | None:
    if isinstance(pair, list | tuple) and len(pair) == len(("x", "y")):
        x, y = pair
        if (
            isinstance(x, int | float)
            and isinstance(y, int | float)
            and abs(x) + abs(y) < FARTHEST_MM
        ):
            return (float(x), float(y))
    return None


def _check_inside(table: Table, panel: Panel) -> None:
    if not panel.holds(0.0, 0.0):
        table.note("aim_x_mm", "and aim_y_mm lie off the panel. Put the aim point on the panel.")
    for zone in panel.zones:
        left, bottom, right, top = zone_bounds_mm(zone)
        if (
            left < panel.left_mm - SLACK_MM
            or right > panel.right_mm + SLACK_MM
            or bottom < panel.bottom_mm - SLACK_MM
            or top > panel.top_mm + SLACK_MM
        ):
            table.note(f"zones.{zone.key}", "reaches over the panel's edge. Make it smaller.")


def zone_bounds_mm(zone: Zone) -> tuple[float, float, float, float]:
    """Return the left, bottom, right and top of a zone in mm from the aim point."""
    if zone.shape is ZoneShape.POLYGON:
        across = [x for x, _ in zone.corners_mm] or [0.0]
        up = [y for _, y in zone.corners_mm] or [0.0]
        return min(across), min(up), max(across), max(up)
    half_x = zone.radius_mm if zone.shape is ZoneShape.CIRCLE else zone.width_mm / 2
    half_y = zone.radius_mm if zone.shape is ZoneShape.CIRCLE else zone.height_mm / 2
    return (
        zone.centre_x_mm - half_x,
        zone.centre_y_mm - half_y,
        zone.centre_x_mm + half_x,
        zone.centre_y_mm + half_y,
    )
