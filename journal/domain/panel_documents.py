"""Read the panel of a challenge: a table of a document in, a Panel out."""

from __future__ import annotations

from journal.domain.documents import Table
from journal.domain.messages import Message
from journal.domain.panels import Panel, Zone, ZoneShape

#: How far a zone may stick out before it is called outside: below what paper can show.
SLACK_MM = 0.01

#: No panel reaches so far: a kilometre, and a guard against infinity.
FARTHEST_MM = 1_000_000.0


def read_panel(table: Table) -> Panel:
    """Read a panel and its zones; whatever is wrong is noted in the table's reading."""
    width_mm = table.number("width_mm", Message("panel_documents.panels_width_in_mm"), above=0)
    height_mm = table.number("height_mm", Message("panel_documents.panels_height_in_mm"), above=0)
    panel = Panel(
        key=table.key(Message("panel_documents.short_name_for_the_panel")),
        width_mm=width_mm,
        height_mm=height_mm,
        aim_x_mm=table.number(
            "aim_x_mm", Message("panel_documents.aim_point_from_the_left_edge"), width_mm / 2
        ),
        aim_y_mm=table.number(
            "aim_y_mm", Message("panel_documents.aim_point_from_the_foot"), height_mm / 2
        ),
        zones=tuple(
            _read_zone(row)
            for row in table.tables("zones", Message("panel_documents.at_least_one_zone"))
        ),
        bare_name=table.text(
            "bare_name", Message("panel_documents.what_the_panel_outside_all_zones_is_called")
        ),
        bare_points=table.number(
            "bare_points", Message("panel_documents.points_of_the_panel_outside_all_zones")
        ),
        wall_points=table.number(
            "wall_points", Message("panel_documents.points_of_a_hit_on_the_wall"), 0.0
        ),
        nowhere_points=table.number(
            "nowhere_points", Message("panel_documents.points_where_nothing_was_hit"), 0.0
        ),
        wall_margin_mm=table.number(
            "wall_margin_mm", Message("panel_documents.how_much_wall_can_be_tapped"), lowest=0
        ),
        mark_radius_mm=table.number(
            "mark_radius_mm", Message("panel_documents.radius_of_a_usual_mark"), lowest=0
        ),
        line_touch=table.flag(
            "line_touch", Message("panel_documents.true_where_a_mark_on_a_line_takes")
        ),
    )
    _check_inside(table, panel)
    table.finish()
    return panel


def _read_zone(row: Table) -> Zone:
    shape = row.choice("shape", ZoneShape)
    zone = Zone(
        key=row.key(Message("panel_documents.short_name_for_the_zone")),
        name=row.text("name", Message("panel_documents.zones_name_on_the_screen")),
        points=row.number("points", Message("panel_documents.what_a_hit_in_the_zone_is_worth")),
        shape=shape,
        centre_x_mm=row.number(
            "centre_x_mm", Message("panel_documents.x_of_the_zones_middle_from_the_aim"), 0.0
        ),
        centre_y_mm=row.number(
            "centre_y_mm", Message("panel_documents.y_of_the_zones_middle_from_the_aim"), 0.0
        ),
        width_mm=_size(row, "width_mm", wanted=shape is ZoneShape.RECTANGLE),
        height_mm=_size(row, "height_mm", wanted=shape is ZoneShape.RECTANGLE),
        corner_mm=row.number(
            "corner_mm", Message("panel_documents.radius_of_the_rounded_corners"), 0.0, lowest=0
        ),
        radius_mm=_size(row, "radius_mm", wanted=shape is ZoneShape.CIRCLE),
        corners_mm=_read_corners(row, wanted=shape is ZoneShape.POLYGON),
    )
    row.finish()
    return zone


def _size(row: Table, key: str, *, wanted: bool) -> float:
    if wanted:
        return row.number(key, Message("panel_documents.length_in_mm_above_0"), above=0)
    return 0.0


def _read_corners(row: Table, *, wanted: bool) -> tuple[tuple[float, float], ...]:
    if not wanted:
        return ()
    value = row.any_value("corners_mm")
    hint = Message("panel_documents.at_least_three_x")
    if not isinstance(value, list | tuple):
        row.note("corners_mm", Message("panel_documents.is_missing", hint=hint))
        return ()
    corners = [_find_pair(pair) for pair in value]
    whole = tuple(pair for pair in corners if pair is not None)
    least = 3
    if len(whole) < len(corners) or len(whole) < least:
        row.note("corners_mm", Message("panel_documents.cannot_be_read", hint=hint))
        return ()
    if any(
        corner == next_corner
        for corner, next_corner in zip(whole, whole[1:] + whole[:1], strict=True)
    ):
        row.note("corners_mm", Message("panel_documents.names_one_corner_twice_in_a_row"))
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
        table.note("aim_x_mm", Message("panel_documents.and_aim_y_mm_lie_off_the_panel"))
    for zone in panel.zones:
        left, bottom, right, top = zone_bounds_mm(zone)
        if (
            left < panel.left_mm - SLACK_MM
            or right > panel.right_mm + SLACK_MM
            or bottom < panel.bottom_mm - SLACK_MM
            or top > panel.top_mm + SLACK_MM
        ):
            table.note(f"zones.{zone.key}", Message("panel_documents.reaches_over_the_panels_edge"))


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
