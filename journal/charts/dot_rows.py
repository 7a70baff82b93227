"""The rows that dots stand in: a panel's zones, or the steps of a measure, come in; rows go out."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass

from journal.charts.dot_columns import DotRow
from journal.charts.scales import fit_scale, known_values
from journal.domain.numbers import show_number
from journal.domain.panels import Panel

#: Keys of the rows that are no zone.
BARE_ROW = "bare panel"
WALL_ROW = "wall"
NOWHERE_ROW = "nowhere"


def zone_rows(
    panel: Panel, *, wall_name: str = "Wall", nowhere_name: str = "Flew past"
) -> tuple[DotRow, ...]:
    """Return a row a zone, keyed like it, then bare panel, wall and nowhere; most points first.

    Leave out a row by an empty name, such as nowhere where no trial ended there.
    """
    named = [(zone.key, zone.name, zone.points) for zone in panel.zones]
    named += [
        (BARE_ROW, panel.bare_name, panel.bare_points),
        (WALL_ROW, wall_name, panel.wall_points),
        (NOWHERE_ROW, nowhere_name, panel.nowhere_points),
    ]
    rows = [
        DotRow(key=key, name=name, value=points, figure=show_number(points))
        for key, name, points in named
        if name
    ]
    return tuple(sorted(rows, key=lambda row: -row.value))


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasureRows:
    """Rows of equal steps; the best step is the first."""

    rows: tuple[DotRow, ...]
    #: The edges of the steps, rising.
    edges: tuple[float, ...]

    def find_key(self, value: float) -> str | None:
        """Return the row of a value; a value on an edge goes to the step above it."""
        if not self.edges:
            return None
        # Round edges may miss the outermost value by the last figure of a float.
        slack = (self.edges[-1] - self.edges[0]) * 1e-6
        if not self.edges[0] - slack <= value <= self.edges[-1] + slack:
            return None
        return str(min(max(bisect_right(self.edges, value), 1), len(self.edges) - 1) - 1)


def measure_rows(values: Iterable[float | None], *, less_is_better: bool = False) -> MeasureRows:
    """Return rows for measured quantities, in at most seven round steps that hold all of them."""
    known = known_values(values)
    if not known:
        return MeasureRows(rows=(), edges=())
    scale = fit_scale(known, 0, 1, most_ticks=6)
    texts = [scale.tick_text(tick) for tick in scale.ticks]
    rows = [
        DotRow(
            key=str(index),
            name="",
            value=(scale.ticks[index] + scale.ticks[index + 1]) / 2,
            figure=f"{texts[index]} to {texts[index + 1]}",
        )
        for index in range(len(scale.ticks) - 1)
    ]
    ordered = rows if less_is_better else rows[::-1]
    return MeasureRows(rows=tuple(ordered), edges=scale.ticks)
