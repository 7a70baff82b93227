"""The hits on a panel as words and as a table: the same hits come in, text goes out."""

from __future__ import annotations

from collections.abc import Sequence

from journal.charts.hits import Hit
from journal.charts.tables import NOTHING, ChartTable, cell
from journal.domain.panels import Panel


def describe_hits(panel: Panel, hits: Sequence[Hit], *, drawn: int | None = None) -> str:
    """Say how many hits lie where, and how many are not drawn."""
    if not hits:
        return "No hits yet."
    counts: dict[str, int] = {}
    for hit in hits:
        place = hit.place_mm
        if place is not None:
            name = _place_name(panel, place)
            counts[name] = counts.get(name, 0) + 1
    parts = [f"{name} {count}" for name, count in counts.items()]
    sentence = f"{_trials(len(hits))}: {', '.join(parts)}." if parts else f"{_trials(len(hits))}."
    stems = sorted({(hit.strokes, hit.who) for hit in hits if hit.strokes and hit.who})
    if stems:
        sentence += f" By strokes: {', '.join(f'{strokes} {who}' for strokes, who in stems)}."
    known = sum(counts.values()) if drawn is None else drawn
    absent = len(hits) - known
    return sentence if absent == 0 else f"{sentence} {_trials(absent)} not drawn."


def panel_table(panel: Panel, hits: Sequence[Hit], *, caption: str = "Hits") -> ChartTable:
    """Return the hits as a table: who, zone, points, and the place from the aim point."""
    rows = []
    for number, hit in enumerate(hits, start=1):
        place = hit.place_mm
        where = (
            (NOTHING, NOTHING, NOTHING, NOTHING)
            if place is None
            else (
                _place_name(panel, place),
                cell(panel.points_at(*place)),
                cell(place[0], 0),
                cell(place[1], 0),
            )
        )
        rows.append((str(number), hit.label or hit.who or hit.number or NOTHING, *where))
    return ChartTable(
        caption=caption,
        header=("Hit", "Who", "Zone", "Points", "Right of aim, mm", "Above aim, mm"),
        rows=tuple(rows),
    )


def _trials(count: int) -> str:
    return "1 trial" if count == 1 else f"{count} trials"


def _place_name(panel: Panel, place: tuple[float, float]) -> str:
    if not panel.holds(*place):
        return "Wall"
    zone = panel.find_zone(*place)
    return panel.bare_name if zone is None else zone.name
