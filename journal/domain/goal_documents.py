"""Read the goal of a challenge: its [goal] table in, a Goal out.

[goal]
kind = "class_table"            most_points | mean_per_attempt | complete_set |
                                attempts_to_complete | class_table
[[goal.zones]]                  for a set: key of a zone, and how many times it is to be hit
[[goal.table]]                  for a table: place, from, to, points; no place for a quantity
"""

from __future__ import annotations

from journal.domain.documents import Table
from journal.domain.goals import BARE, MEASURE, Goal, GoalKind, TableRow
from journal.domain.messages import Message
from journal.domain.panels import Panel
from journal.domain.trials import Place

#: More would be no goal that a class keeps in mind (common practice, no source).
MOST_TIMES = 9
MOST_ROWS = 12


def read_goal(table: Table, panel: Panel | None) -> Goal:
    """Read the goal; whatever is wrong is noted."""
    kind = table.choice("kind", GoalKind)
    zones = _read_zones(table, kind, panel)
    rows = _read_table(table, kind, panel)
    table.finish()
    return Goal(kind=kind, zones=zones, table=rows)


def _read_zones(table: Table, kind: GoalKind, panel: Panel | None) -> tuple[str, ...]:
    rows = table.tables(
        "zones", Message("goal_documents.table_a_zone_with_its_key"), needed=kind.asks_for_zones
    )
    if not kind.asks_for_zones:
        if rows:
            table.note("zones", Message("goal_documents.goes_with_a_set_of_zones_only"))
        return ()
    if panel is None:
        table.note("kind", Message("goal_documents.cannot_be", kind=kind.value))
        return ()
    known = {zone.key for zone in panel.zones}
    zones: list[str] = []
    for row in rows:
        key = row.key(Message("goal_documents.key_of_a_zone"))
        if key and key not in known:
            row.note(
                "key", Message("goal_documents.no_zone_of_the_panel", known=tuple(sorted(known)))
            )
        hint = Message("goal_documents.whole_number_from_1_to", most_times=MOST_TIMES)
        times = row.whole("times", hint, lowest=1) if row.has("times") else 1
        if times > MOST_TIMES:
            row.note("times", Message("goal_documents.cannot_be_write", times=times, hint=hint))
        row.finish()
        zones += [key] * min(times, MOST_TIMES)
    return tuple(zones)


def _read_table(table: Table, kind: GoalKind, panel: Panel | None) -> tuple[TableRow, ...]:
    is_table = kind is GoalKind.CLASS_TABLE
    rows = table.tables("table", Message("goal_documents.table_a_line_with_from"), needed=is_table)
    if rows and not is_table:
        table.note("table", Message("goal_documents.goes_with_class_table_only"))
        return ()
    if len(rows) > MOST_ROWS:
        table.note(
            "table", Message("goal_documents.has_lines", count=len(rows), most_rows=MOST_ROWS)
        )
    return tuple(_read_row(row, panel) for row in rows)


def _read_row(row: Table, panel: Panel | None) -> TableRow:
    if panel is None:
        where = MEASURE
        first = row.number("from", Message("goal_documents.where_the_line_begins"))
        last = row.find_number("to", Message("goal_documents.where_the_line_ends"))
    else:
        where = row.text("place", Message("goal_documents.the_key_of_a_zone"))
        places = [*(zone.key for zone in panel.zones), BARE, Place.WALL, Place.NOWHERE]
        if where and where not in places:
            row.note("place", Message("goal_documents.no_place_here", places=tuple(places)))
        first = float(
            row.whole("from", Message("goal_documents.number_of_the_first_hit"), lowest=1)
        )
        to = row.find_whole("to", Message("goal_documents.number_of_the_last_hit"), lowest=1)
        last = None if to is None else float(to)
    if last is not None and last < first:
        row.note("to", Message("goal_documents.lies_before_from"))
    points = row.number(
        "points",
        Message("goal_documents.how_many_points_the_line_gives"),
        lowest=-1000,
        highest=1000,
    )
    row.finish()
    return TableRow(where=where, points=points, first=first, last=last)
