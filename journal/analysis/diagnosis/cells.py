"""The likelihood of results without a position: points of zones, or distances.

In: by student, how often each cell came up, with its load. Out: likelihoods for spots and scatters.
A cell is a zone or a ring about the aim point; the last one is everything beyond the panel. How
likely each is depends on where hits gather and how far they scatter, and is cached.
The centres of students and of a sound device differ little: they enter as more scatter.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import cos, exp, hypot, log, pi, sin

from journal.analysis.diagnosis.causes import (
    DEVICE_PULL,
    OFFSET,
    PULL,
    STRAY,
    STRAY_SD,
    STUDENT_PULL,
    Weighted,
    direction_density,
    scatters,
    spread_evenly,
    wide_scatters,
)
from journal.analysis.diagnosis.frame import between
from journal.analysis.diagnosis.rings import scaled_bessel
from journal.analysis.diagnosis.sums import Likelihoods, Spot

#: Quadrature points for the variance under good use, a use that scatters, and one that pulls.
_USUAL = scatters(4)
_WIDE = wide_scatters(3)
_PULLED = scatters(2)
#: No cell has a probability below this, so that one odd result does not rule out every cause.
_LEAST = 1e-9
#: Steps between the rows of a table: of the centre in units (10 mm on the panel), and of the
#: natural logarithm of the standard deviation (5 %).
_STEP = 0.1
_LOG_STEP = 0.05
#: Rows that a table holds before it is emptied.
KEPT_ROWS = 1 << 16
#: Directions of the ring of a device's offsets, of which the right half is computed.
_OFFSET_TURNS = 12
#: Directions in which a use that pulls may gather.
_PULL_TURNS = 8


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


#: One student's trials: by load, each cell and how often it came up.
CellCounts = tuple[tuple[float, tuple[tuple[int, int], ...]], ...]


@lru_cache(maxsize=1)
def usual_spot() -> tuple[Spot, ...]:
    """Return where a sound device gathers: the aim point."""
    return ((0.0, 0.0, 1.0),)


@lru_cache(maxsize=1)
def offset_ring() -> tuple[Spot, ...]:
    """Return where a device with an offset gathers: three rings of twelve directions.

    Cells lie alike left and right, or nearly so: the right half stands for both.
    """
    turns = _OFFSET_TURNS
    spots = []
    for size, weight in spread_evenly(OFFSET, 3):
        for turn in range(-3, 4):
            # Fine directions about the coarse one, so that the edge of "low" falls where it is.
            share = sum(
                direction_density(2 * pi * (turn + part / 20) / turns) for part in range(-9, 11)
            ) / 20 * 2 * pi / turns  # fmt: skip
            angle = 2 * pi * turn / turns
            times = 1 if abs(turn) == turns // 4 else 2
            spots.append((size * cos(angle), size * sin(angle), weight * share * times))
    return tuple(spots)


@lru_cache(maxsize=1)
def _pulls() -> tuple[Spot, ...]:
    turns = _PULL_TURNS
    return tuple(
        (size * cos(2 * pi * turn / turns), size * sin(2 * pi * turn / turns), weight / turns)
        for size, weight in spread_evenly(PULL, 2)
        for turn in range(turns)
    )


class CellWeigher:
    """Weighs spots, slope and extra scatter by the cells of all students."""

    def __init__(self, students: Sequence[CellCounts], frame: CellFrame) -> None:
        """Take the counts of each student."""
        self._students = students
        self._table = table_of(frame)

    def weigh(
        self,
        spots: Sequence[Spot],
        slope: float,
        extra: float,
        poor: bool,  # noqa: FBT001
    ) -> Iterator[Likelihoods]:
        """Return, spot by spot, each student's likelihood under good and under poor use."""
        students = (
            self._students if slope else [_without_load(student) for student in self._students]
        )
        columns = [self._weigh_student(student, spots, slope, extra, poor) for student in students]
        return zip(*columns, strict=True)

    def _weigh_student(
        self,
        student: CellCounts,
        spots: Sequence[Spot],
        slope: float,
        extra: float,
        poor: bool,  # noqa: FBT001
    ) -> list[tuple[float, float]]:
        blur = extra + STUDENT_PULL + DEVICE_PULL
        usual, wide, pulled = (_rows_of(sizes, blur) for sizes in (_USUAL, _WIDE, _PULLED))
        pulls = _pulls()
        found = []
        for x, y, _ in spots:
            good = self._sum(student, x, y, slope, usual)
            bad = 0.0
            if poor:
                far = sum(
                    weight * self._sum(student, x + px, y + py, slope, pulled)
                    for px, py, weight in pulls
                )
                bad = (self._sum(student, x, y, slope, wide) + far) / 2
            found.append((good, bad))
        return found

    def _sum(
        self,
        student: CellCounts,
        x: float,
        y: float,
        slope: float,
        sizes: Sequence[tuple[int, float]],
    ) -> float:
        find_row = self._table.find_row
        column = round(x / _STEP)
        total = 0.0
        for size, weight in sizes:
            chance = weight
            for load, counts in student:
                row = find_row(column, round((y - slope * load) / _STEP), size)
                for cell, times in counts:
                    chance *= row[cell] if times == 1 else row[cell] ** times
            total += chance
        return total


def count_cells(trials: Sequence[tuple[float, int]]) -> CellCounts:
    """Return one student's trials, (load, cell) each, counted."""
    counts: dict[float, dict[int, int]] = {}
    for load, cell in trials:
        own = counts.setdefault(load, {})
        own[cell] = own.get(cell, 0) + 1
    return tuple((load, tuple(own.items())) for load, own in counts.items())


def _without_load(student: CellCounts) -> CellCounts:
    return count_cells(
        [(0.0, cell) for _, counts in student for cell, times in counts for _ in range(times)]
    )


def _rows_of(sizes: Weighted, blur: float) -> list[tuple[int, float]]:
    return [(round(log(own + blur) / 2 / _LOG_STEP), weight) for own, weight in sizes]


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
