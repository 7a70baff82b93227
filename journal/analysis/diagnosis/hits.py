"""The likelihood of positions: closed forms for each student, a grid for the device.

In: hits by student, loads, and hits beyond the panel. Out: the likelihood of each set of causes.
A student's hits about a common middle are normal, so middle and scatter need only their number,
mean and squares; a hit beyond the panel counts as such, about where the student's others gather.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import cos, exp, hypot, pi, sin

from journal.analysis.diagnosis.causes import (
    PULL,
    STUDENT_PULL,
    Weighted,
    scatters,
    wide_scatters,
)
from journal.analysis.diagnosis.frame import COLUMNS, MIDDLE, Frame, chances_between, row_of
from journal.analysis.diagnosis.hit_sums import HitSums
from journal.analysis.diagnosis.rings import COLUMNS as RING_COLUMNS
from journal.analysis.diagnosis.rings import find_ring_density
from journal.analysis.diagnosis.sums import Likelihoods, Spot

#: Quadrature points for the variance under good use, a use that scatters, and one that pulls.
_USUAL = scatters(3)
_WIDE = wide_scatters(3)
_PULLED = scatters(3)
#: A student who pulls and has no hit on the panel is taken to gather at this distance, in one of so
#: many directions.
_TURNS = 8
_RING = (PULL[0] + PULL[1]) / 2


@dataclass(frozen=True, slots=True)
class _Term:
    """One scatter of one student: weight, half precision, and what a wall hit needs."""

    weight: float
    half: float
    #: How far the student's own middle moves from the spot towards the hits.
    share: float
    row: int
    variance: float


class HitWeigher:
    """Weighs spots, slope and extra scatter by the positions of all students."""

    def __init__(self, students: Sequence[HitSums], frame: Frame) -> None:
        """Take the sums in units of the frame."""
        self._students = students
        unit = frame.unit_mm
        self._across = chances_between(frame.left_mm / unit, frame.right_mm / unit)
        self._upward = chances_between(frame.bottom_mm / unit, frame.top_mm / unit)

    def weigh(
        self,
        spots: Sequence[Spot],
        slope: float,
        extra: float,
        poor: bool,  # noqa: FBT001
    ) -> Iterator[Likelihoods]:
        """Return, spot by spot, each student's likelihood under good and under poor use."""
        columns = [
            self._weigh_student(student, spots, slope, extra, poor) for student in self._students
        ]
        return zip(*columns, strict=True)

    def _weigh_student(
        self,
        sums: HitSums,
        spots: Sequence[Spot],
        slope: float,
        extra: float,
        poor: bool,  # noqa: FBT001
    ) -> list[tuple[float, float]]:
        squares, x, y = _lift(sums, slope)
        good = self._gather(sums, spots, _terms(sums.n, squares, _USUAL, extra), x, y, slope)
        for rest, chance in sums.without_stray:
            left, at_x, at_y = _lift(rest, slope)
            terms = _terms(rest.n, left, _USUAL, extra)
            sound = self._gather(rest, spots, terms, at_x, at_y, slope)
            good = [a + chance * b for a, b in zip(good, sound, strict=True)]
        if not poor:
            return [(chance, 0.0) for chance in good]
        wide = self._gather(sums, spots, _terms(sums.n, squares, _WIDE, extra), x, y, slope)
        terms = _terms(sums.n, squares, _PULLED, extra)
        far = self._gather_ring(sums, spots, terms, x, y, slope)
        return [(a, (b + c) / 2) for a, b, c in zip(good, wide, far, strict=True)]

    def _gather(
        self, sums: HitSums, spots: Sequence[Spot], terms: list[_Term], x: float, y: float,
        slope: float,
    ) -> list[float]:  # fmt: skip
        if sums.beyond:
            return self._gather_with_wall(sums, spots, terms, x, y, slope)
        if sums.n == 0:
            return [1.0] * len(spots)
        pairs = [(term.weight, term.half) for term in terms]
        found = []
        for sx, sy, _ in spots:
            away = (x - sx) * (x - sx) + (y - sy) * (y - sy)
            found.append(sum([weight * exp(-away * half) for weight, half in pairs]))
        return found

    def _gather_with_wall(
        self, sums: HitSums, spots: Sequence[Spot], terms: list[_Term], x: float, y: float,
        slope: float,
    ) -> list[float]:  # fmt: skip
        # This loop is most of the work: everything that can be is looked up before it.
        walls = _walls_of(sums, slope)
        sizes = [
            (term.weight, term.half, term.share, self._across[term.row], self._upward[term.row])
            for term in terms
        ]
        known = sums.n > 0
        found = []
        for sx, sy, _ in spots:
            dx, dy = (x - sx, y - sy) if known else (0.0, 0.0)
            away = dx * dx + dy * dy
            total = 0.0
            for weight, half, share, across, upward in sizes:
                chance = weight * exp(-away * half)
                within = across[int((sx + share * dx) * COLUMNS + MIDDLE)]
                height = (sy + share * dy) * COLUMNS + MIDDLE
                for lower, times in walls:
                    chance *= (1.0 - within * upward[int(height - lower)]) ** times
                total += chance
            found.append(total)
        return found

    def _wall(self, sums: HitSums, x: float, y: float, row: int, slope: float) -> float:
        across = self._across[row][int(x * COLUMNS + MIDDLE)]
        upward = self._upward[row]
        height = y * COLUMNS + MIDDLE
        chance = 1.0
        for lower, times in _walls_of(sums, slope):
            chance *= (1.0 - across * upward[int(height - lower)]) ** times
        return chance

    def _gather_ring(
        self, sums: HitSums, spots: Sequence[Spot], terms: list[_Term], x: float, y: float,
        slope: float,
    ) -> list[float]:  # fmt: skip
        if sums.n == 0:
            if not sums.beyond:
                return [1.0] * len(spots)
            row = row_of(_PULLED[1][0] + STUDENT_PULL)
            turns = [2 * pi * turn / _TURNS for turn in range(_TURNS)]
            return [
                sum(
                    self._wall(sums, sx + _RING * cos(turn), sy + _RING * sin(turn), row, slope)
                    for turn in turns
                )
                / _TURNS
                for sx, sy, _ in spots
            ]
        weighed = [
            (
                # The ring's density takes the place of the normal sums about the spot.
                term.weight * pi / term.half,
                find_ring_density(0.5 / term.half),
                self._wall(sums, x, y, row_of(term.variance * (1 + 1 / sums.n)), slope)
                if sums.beyond
                else 1.0,
            )
            for term in terms
        ]
        found = []
        for sx, sy, _ in spots:
            at = round(hypot(x - sx, y - sy) * 10)
            near = at < RING_COLUMNS
            found.append(sum([w * ring[at] * wall for w, ring, wall in weighed]) if near else 0.0)
        return found


def _lift(sums: HitSums, slope: float) -> tuple[float, float, float]:
    """Return squares and mean as they would be without any load."""
    squares = sums.squares + 2 * slope * sums.with_load + slope * slope * sums.load_squares
    return squares, sums.mean_x, sums.mean_y + slope * sums.mean_load


def _walls_of(sums: HitSums, slope: float) -> list[tuple[float, int]]:
    """Return how far each hit beyond was lowered, in columns, and how many there were."""
    if slope == 0:
        return [(0.0, sum(times for _, times in sums.beyond))]
    return [(slope * load * COLUMNS, times) for load, times in sums.beyond]


def _terms(n: int, squares: float, sizes: Weighted, extra: float) -> list[_Term]:
    terms = []
    for own, weight in sizes:
        variance = own + extra
        if n == 0:
            row = row_of(variance + STUDENT_PULL)
            terms.append(_Term(weight, 0.0, 0.0, row, variance))
            continue
        pull = variance / n + STUDENT_PULL
        within = (2 * pi * variance) ** (1 - n) / n * exp(-squares / (2 * variance))
        left = STUDENT_PULL * variance / n / pull
        terms.append(
            _Term(
                weight * within / (2 * pi * pull),
                0.5 / pull,
                STUDENT_PULL / pull,
                row_of(variance + left),
                variance,
            )
        )
    return terms
