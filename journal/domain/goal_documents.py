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
    rows = table.tables("zones", "a table a zone with its key", needed=kind.asks_for_zones)
    if not kind.asks_for_zones:
        if rows:
            table.note("zones", "goes with a set of zones only. Take it out.")
        return ()
    if panel is None:
        table.note("kind", f"cannot be {kind.value}: this challenge has no zones to hit.")
        return ()
    known = {zone.key for zone in panel.zones}
    zones: list[str] = []
    for row in rows:
        key = row.key("the key of a zone")
        if key and key not in known:
            row.note("key", f"is no zone of the panel. Choose {', '.join(sorted(known))}.")
        hint = f"a whole number from 1 to {MOST_TIMES}"
        times = row.whole("times", hint, lowest=1) if row.has("times") else 1
        if times > MOST_TIMES:
            row.note("times", f"cannot be {times}. Write {hint}.")
        row.finish()
        zones += [key] * min(times, MOST_TIMES)
    return tuple(zones)


def _read_table(table: Table, kind: GoalKind, panel: Panel | None) -> tuple[TableRow, ...]:
    is_table = kind is GoalKind.CLASS_TABLE
    rows = table.tables("table", "a table a line with from, to and points", needed=is_table)
    if rows and not is_table:
        table.note("table", "goes with class_table only. Take it out.")
        return ()
    if len(rows) > MOST_ROWS:
        table.note("table", f"has {len(rows)} lines. Write at most {MOST_ROWS}.")
    return tuple(_read_row(row, panel) for row in rows)


def _read_row(row: Table, panel: Panel | None) -> TableRow:
    if panel is None:
        where = MEASURE
        first = row.number("from", "where the line begins")
        last = row.find_number("to", "where the line ends")
    else:
        where = row.text("place", "the key of a zone, bare, wall or nowhere")
        places = [*(zone.key for zone in panel.zones), BARE, Place.WALL, Place.NOWHERE]
        if where and where not in places:
            row.note("place", f"is no place here. Choose {', '.join(places)}.")
        first = float(row.whole("from", "the number of the first hit, from 1", lowest=1))
        to = row.find_whole("to", "the number of the last hit, from 1", lowest=1)
        last = None if to is None else float(to)
    if last is not None and last < first:
        row.note("to", "lies before from. Write the larger number here, or leave it out.")
    points = row.number("points", "how many points the line gives", lowest=-1000, highest=1000)
    row.finish()
    return TableRow(where=where, points=points, first=first, last=last)
