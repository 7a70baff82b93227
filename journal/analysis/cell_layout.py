"""Layout of cells: which levels and blocks each cell of trials belongs to, in numbers.

In: cells and the effects to tell apart. Out: positions for the linear algebra of the likelihood.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from journal.analysis.cells import Cell, Cells, Effect


@dataclass(frozen=True, slots=True, kw_only=True)
class CellLayout:
    """Cells with the places of their levels; the levels of all effects are numbered through."""

    cells: tuple[Cell, ...]
    effects: tuple[Effect, ...]
    #: Numbers of the levels of each effect that has levels of its own.
    ranges: Mapping[Effect, range]
    #: For each cell its level of each effect in `ranges`, in that order.
    levels: tuple[tuple[int, ...], ...]
    #: Cells of one student with one revision share what fits that student.
    blocks: tuple[tuple[int, ...], ...]
    freedom_within: int
    squares_within: float

    @property
    def size(self) -> int:
        """Return the number of levels of all effects together."""
        return sum(len(levels) for levels in self.ranges.values())


def lay_out(cells: Cells, effects: Sequence[Effect]) -> CellLayout:
    """Lay out cells: number their levels and blocks."""
    ranges: dict[Effect, range] = {}
    at = 0
    for effect, size in (
        (Effect.REVISION, cells.revisions),
        (Effect.STUDENT, cells.students),
        (Effect.OWN_PART, cells.own_parts),
    ):
        if effect in effects:
            ranges[effect] = range(at, at + size)
            at += size
    blocks: dict[tuple[int, int], list[int]] = {}
    for place, cell in enumerate(cells.cells):
        blocks.setdefault((cell.revision, cell.student), []).append(place)
    return CellLayout(
        cells=cells.cells,
        effects=tuple(effects),
        ranges=ranges,
        levels=tuple(_levels_of(cell, ranges) for cell in cells.cells),
        blocks=tuple(map(tuple, blocks.values())),
        freedom_within=cells.count - len(cells.cells),
        squares_within=sum(cell.squares for cell in cells.cells),
    )


def _levels_of(cell: Cell, ranges: Mapping[Effect, range]) -> tuple[int, ...]:
    place = {
        Effect.REVISION: cell.revision,
        Effect.STUDENT: cell.student,
        Effect.OWN_PART: cell.own_part,
    }
    return tuple(levels[place[effect]] for effect, levels in ranges.items())
