"""Each student by themselves: how far off they gather and how far their hits scatter.

In: the set of trials, the frame. Out: `StudentSpread` in mm, None where too little is known.
Hits beyond the panel count as "at least that far": leaving them out would pull all to the middle.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import erf, exp, hypot, lgamma, pi, sqrt

from journal.analysis.diagnosis.cells import cell_frame_of, cell_of, table_of
from journal.analysis.diagnosis.frame import Frame
from journal.analysis.diagnosis.trials import Device, Evidence, MeasuredTrial, TrialSet

#: Iterations of expectation-maximisation for hits beyond the panel (set by hand).
_ROUNDS = 25
#: The least variance in each axis, square units: to start from (sd 50 mm on the panel), and at all
#: (sd 10 mm).
_FIRST_VARIANCE = 0.25
_LEAST_VARIANCE = 0.01
#: The grid for results without positions, in steps of the table of cells: scatter from about 37 to
#: 406 mm, and offset from 0 to 330 mm in steps of 30, on a panel of 600 mm.
_SIZES = range(-20, 29, 4)
_COLUMNS = range(0, 36, 3)


@dataclass(frozen=True, slots=True, kw_only=True)
class StudentSpread:
    """Where one student's trials ended."""

    trials: int
    offset_mm: float | None = None
    scatter_mm: float | None = None
    #: None where no position is known.
    x_mm: float | None = None
    y_mm: float | None = None


def spread_students(trial_set: TrialSet, frame: Frame) -> Mapping[str, StudentSpread]:
    """Return the spread, in mm on the panel of `frame`, of each named member in `trial_set`.

    Guests are left out, and so is what members launched with another group's device.
    """
    grouped: dict[str, list[MeasuredTrial]] = {}
    for trial in trial_set.trials:
        if trial.student and not trial.guest and trial.device is not Device.OTHER_GROUP:
            grouped.setdefault(trial.student, []).append(trial)
    by_cells = trial_set.evidence in {Evidence.POINTS, Evidence.MEASURES}
    return {
        name: _spread_cells(own, trial_set, frame) if by_cells else spread_hits(own, frame)
        for name, own in grouped.items()
    }


def spread_hits(trials: Sequence[MeasuredTrial], frame: Frame) -> StudentSpread:
    """Return the spread of the hits of `trials` in mm on the panel of `frame`.

    Hits beyond the panel enter by expectation-maximisation: Dempster, Laird & Rubin, Journal of the
    Royal Statistical Society B 39 (1977), 1-38, doi:10.1111/j.2517-6161.1977.tb01600.x (from
    memory). The moments outside a rectangle are those of the whole less those inside.
    """
    hits = [trial.hit for trial in trials if trial.hit is not None]
    beyond = len(trials) - len(hits)
    n, unit = len(hits), frame.unit_mm
    if n == 0:
        return StudentSpread(trials=len(trials))
    x, y = sum(hit[0] for hit in hits) / n, sum(hit[1] for hit in hits) / n
    squares = sum((hit[0] - x) ** 2 + (hit[1] - y) ** 2 for hit in hits)
    if not beyond:
        return StudentSpread(
            trials=len(trials),
            offset_mm=hypot(x, y) * unit,
            scatter_mm=None if n == 1 else _unbiased(squares, n) * unit,
            x_mm=x * unit,
            y_mm=y * unit,
        )
    edges = (frame.left_mm / unit, frame.right_mm / unit)
    sides = (frame.bottom_mm / unit, frame.top_mm / unit)
    total = n + beyond
    variance = max(squares / (2 * n), _FIRST_VARIANCE)
    sum_x, sum_y = sum(hit[0] for hit in hits), sum(hit[1] for hit in hits)
    sum_squares = sum(hit[0] ** 2 + hit[1] ** 2 for hit in hits)
    for _ in range(_ROUNDS):
        in_x, in_y = _inside(*edges, x, sqrt(variance)), _inside(*sides, y, sqrt(variance))
        left = max(1 - in_x[0] * in_y[0], 1e-9)
        far_x = (x - in_x[1] * in_y[0]) / left
        far_y = (y - in_y[1] * in_x[0]) / left
        whole = x * x + y * y + 2 * variance
        far_squares = (whole - in_x[2] * in_y[0] - in_y[2] * in_x[0]) / left
        x, y = (sum_x + beyond * far_x) / total, (sum_y + beyond * far_y) / total
        squares = (sum_squares + beyond * far_squares) / total
        variance = max((squares - x * x - y * y) / 2, _LEAST_VARIANCE)
    return StudentSpread(
        trials=len(trials),
        offset_mm=hypot(x, y) * unit,
        scatter_mm=sqrt(variance) * unit,
        x_mm=x * unit,
        y_mm=y * unit,
    )


def _unbiased(squares: float, n: int) -> float:
    """Return the scatter from squares about the mean, without bias (Rayleigh, 2n - 2 df)."""
    half = n - 1
    return sqrt(squares / 2) * exp(lgamma(half) - lgamma(half + 0.5))


def _inside(low: float, high: float, middle: float, sd: float) -> tuple[float, float, float]:
    """Return the share of a normal variable between two ends, and its first two moments there."""
    a, b = (low - middle) / sd, (high - middle) / sd
    share = (erf(b / sqrt(2)) - erf(a / sqrt(2))) / 2
    at_a, at_b = exp(-a * a / 2) / sqrt(2 * pi), exp(-b * b / 2) / sqrt(2 * pi)
    first = middle * share + sd * (at_a - at_b)
    second = (
        (middle * middle + sd * sd) * share
        + 2 * middle * sd * (at_a - at_b)
        + sd * sd * (a * at_a - b * at_b)
    )
    return share, first, second


def _spread_cells(
    trials: Sequence[MeasuredTrial], trial_set: TrialSet, frame: Frame
) -> StudentSpread:
    """Return the mean of offset and scatter over a grid, all of it equally likely beforehand."""
    if len(trials) < 2:  # noqa: PLR2004 - one trial has no scatter
        return StudentSpread(trials=len(trials))
    cells = cell_frame_of(trial_set, frame)
    table = table_of(cells)
    counts: dict[int, int] = {}
    for trial in trials:
        cell = cell_of(trial, trial_set, cells)
        counts[cell] = counts.get(cell, 0) + 1
    total = offset = scatter = 0.0
    for column in _COLUMNS:
        for size in _SIZES:
            row = table.find_row(0, -column, size)
            chance = 1.0
            for cell, times in counts.items():
                chance *= row[cell] ** times
            total += chance
            offset += chance * column / 10
            scatter += chance * exp(size / 20)
    if total <= 0:
        return StudentSpread(trials=len(trials))
    return StudentSpread(
        trials=len(trials),
        offset_mm=offset / total * frame.unit_mm,
        scatter_mm=scatter / total * frame.unit_mm,
    )
