"""Results without a position: cells of the panel, and how likely each is.

In: the panel with its zones, or rings about the aim point. Out: `CellFrame` and `CellTable`.
A cell is a zone or a ring about the aim point; the last one is everything beyond the panel. How
likely each is depends on where hits gather and how far they scatter, and is cached.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import exp, hypot, log

from journal.analysis.diagnosis.causes import STRAY, STRAY_SD
from journal.analysis.diagnosis.frame import Frame, between
from journal.analysis.diagnosis.rings import scaled_bessel
from journal.analysis.diagnosis.trials import RING_BREADTH, Evidence, MeasuredTrial, TrialSet

#: No cell has a probability below this, so that one odd result does not rule out every cause.
_LEAST = 1e-9
#: Steps between the rows of a table: of the centre in units (10 mm on the panel), and of the
#: natural logarithm of the standard deviation (5 %).
_STEP = 0.1
_LOG_STEP = 0.05
#: Rows that a table holds before it is emptied.
KEPT_ROWS = 1 << 16


@dataclass(frozen=True, slots=True)
class CellFrame:
    """The panel in units, and its cells: squares or rings about the aim point."""

    left: float
    right: float
    bottom: float
    top: float
    #: Half sides of squares, or radii, from the inside; the rest of the panel is one more cell.
    sizes: tuple[float, ...]
    rings: bool

    @property
    def beyond(self) -> int:
        """Return the number of the cell beyond the panel."""
        return len(self.sizes) + 1

    def cell_of(self, size: float) -> int:
        """Return the cell of a distance from the aim point."""
        return next((cell for cell, end in enumerate(self.sizes) if size <= end), len(self.sizes))


def cell_frame_of(trial_set: TrialSet, frame: Frame) -> CellFrame:
    """Return the panel of `frame`, in units, with the cells in which `trial_set` was recorded."""
    unit = frame.unit_mm
    left, right = frame.left_mm / unit, frame.right_mm / unit
    bottom, top = frame.bottom_mm / unit, frame.top_mm / unit
    if trial_set.evidence in {Evidence.POINTS, Evidence.POSITIONS}:
        # Among positions a few trials may have points only. The last square is the panel itself:
        # the rest of the panel is its cell.
        sizes = tuple(half_mm / unit for half_mm, _ in trial_set.zones.squares[:-1])
        return CellFrame(left, right, bottom, top, sizes, rings=False)
    farthest = max(map(abs, (left, right, bottom, top))) * 2**0.5
    sizes = tuple(RING_BREADTH * (at + 1) for at in range(int(farthest / RING_BREADTH)))
    return CellFrame(left, right, bottom, top, sizes, rings=True)


def cell_of(trial: MeasuredTrial, trial_set: TrialSet, cells: CellFrame) -> int:
    """Return the number of the cell in which a trial of `trial_set` ended."""
    if trial.beyond or trial.value is None:
        return cells.beyond
    if trial_set.evidence is Evidence.MEASURES:
        return cells.cell_of(trial.value)
    points = [zone_points for _, zone_points in trial_set.zones.squares]
    return points.index(trial.value) if trial.value in points else cells.beyond


class CellTable:
    """How likely each cell is, by where hits gather and how far they scatter; rows are kept."""

    def __init__(self, frame: CellFrame) -> None:
        """Start with no row."""
        self._frame = frame
        self._rows: dict[tuple[int, int, int], tuple[float, ...]] = {}
        self._rings: dict[tuple[int, int], tuple[float, ...]] = {}
        self._astray: tuple[float, ...] | None = None

    def find_row(self, column: int, line: int, size: int) -> tuple[float, ...]:
        """Return the chances of the cells about a centre, for a scatter; numbers count steps."""
        row = self._rows.get((column, line, size))
        if row is None:
            if len(self._rows) >= KEPT_ROWS:
                self._rows.clear()
            row = self._rows[column, line, size] = self._with_strays(column, line, size)
        return row

    def _with_strays(self, column: int, line: int, size: int) -> tuple[float, ...]:
        """Return the chances of the cells, a trial in so many gone astray."""
        chances = self._chances(column, line, size)
        if self._astray is None:
            self._astray = self._chances(0, 0, round(log(STRAY_SD) / _LOG_STEP))
        return tuple(
            (1 - STRAY) * chance + STRAY * stray
            for chance, stray in zip(chances, self._astray, strict=True)
        )

    def _chances(self, column: int, line: int, size: int) -> tuple[float, ...]:
        frame = self._frame
        x, y, sd = column * _STEP, line * _STEP, exp(size * _LOG_STEP)
        panel = between(frame.left, frame.right, x, sd) * between(frame.bottom, frame.top, y, sd)
        if frame.rings:
            away = round(hypot(x, y) / _STEP)
            chances = self._rings.get((away, size))
            if chances is None:
                chances = self._rings[away, size] = _ring_chances(frame.sizes, away, size)
            inner = sum(chances)
        else:
            insides = [between(-half, half, x, sd) * between(-half, half, y, sd)
                       for half in frame.sizes]  # fmt: skip
            chances = tuple(
                max(_LEAST, outer - inner)
                for outer, inner in zip(insides, [0.0, *insides], strict=False)
            )
            inner = insides[-1] if insides else 0.0
        return (*chances, max(_LEAST, panel - inner), max(_LEAST, 1 - panel))


@lru_cache(maxsize=16)
def table_of(frame: CellFrame) -> CellTable:
    """Return the table of a frame."""
    return CellTable(frame)


def _ring_chances(ends: tuple[float, ...], away: int, size: int) -> tuple[float, ...]:
    """Return the probability of each ring: the Rice density at its middle, times its breadth."""
    off, sd = away * _STEP, exp(size * _LOG_STEP)
    variance = sd * sd
    chances, start = [], 0.0
    for end in ends:
        at = (start + end) / 2
        density = (
            at / variance * exp(-((at - off) ** 2) / (2 * variance))
            * scaled_bessel(at * off / variance)
        )  # fmt: skip
        chances.append(max(_LEAST, density * (end - start)))
        start = end
    return tuple(chances)
