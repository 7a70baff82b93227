"""The likelihood of what one person launched with one device and one own part, place by place.

In: the set of trials. Out: `Block`s, each with its likelihood for every place where its hits may
gather, under four kinds of scatter and three families of noise. This module imports numpy.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from journal.analysis.diagnosis.causes import DEVICE_SD, GUEST_PULL_SD, PULL_SD
from journal.analysis.diagnosis.cells import CellFrame, cell_frame_of, cell_of
from journal.analysis.diagnosis.chances import cell_chances, log_cell_chances
from journal.analysis.diagnosis.frame import Frame
from journal.analysis.diagnosis.grid import (
    CALMER,
    FINE_HALF,
    FINE_STEP,
    HALF,
    LOG_SCALES,
    LOG_STEP,
    SCALES,
    SIDE,
    Array,
    blur,
    flat_index,
    places,
    scatter_weights,
)
from journal.analysis.diagnosis.trials import Device, Evidence, MeasuredTrial, TrialSet

#: Factors multiplied before the logarithm is taken, so that the product stays in range.
_AT_ONCE = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One person's trials with one device, one own part, one handling, at one distance."""

    student: str
    own_part: str
    guest: bool
    device: Device
    device_name: str
    other_handling: str
    distance_ratio: float
    trials: tuple[MeasuredTrial, ...]
    #: Family, kind of scatter, place (flattened); the largest likelihood of all is near 1.
    likelihood: Array
    #: The natural logarithm of what was divided out of it.
    log_scale: float

    def at_aim(self, kind: int) -> Array:
        """Return the likelihood of gathering at the aim point, by family."""
        return np.asarray(self.likelihood[:, kind, HALF * SIDE + HALF])

    def at(self, spots: Array, kind: int) -> Array:
        """Return the likelihood of gathering at each of these places, by family and place."""
        return np.asarray(self.likelihood[:, kind, flat_index(spots, self.distance_ratio)])


class Telling:
    """What a trial tells of the place where it would have gathered."""

    def __init__(self, trial_set: TrialSet, frame: Frame) -> None:
        """Take the set of trials and the frame that it was recorded in."""
        self.trial_set = trial_set
        self.cells: CellFrame = cell_frame_of(trial_set, frame)

    def cell_of(self, trial: MeasuredTrial) -> int:
        """Return the trial's cell; one past the last for a known position."""
        if trial.hit is not None:
            return self.cells.beyond + 1
        return cell_of(trial, self.trial_set, self.cells)

    def log_grid(self, trials: Sequence[MeasuredTrial]) -> Array:
        """Return the log likelihood of trials: family, y, x, scatter of the model."""
        normal, heavy = self._log_cells(trials)
        hits = [trial.hit for trial in trials if trial.hit is not None]
        if hits:
            close, wide = _log_hits(hits)
            normal, heavy = normal + close, heavy + wide
        return np.stack(
            [normal[..., CALMER:], heavy[..., CALMER:], heavy[..., : len(SCALES) - CALMER]]
        )

    def _log_cells(self, trials: Sequence[MeasuredTrial]) -> Array:
        cells = [self.cell_of(trial) for trial in trials if trial.hit is None]
        if not cells:
            return np.zeros((2, SIDE, SIDE, len(SCALES)))
        counts = np.bincount(cells)
        table = log_cell_chances(self.cells)[:, :, ::2, ::2]
        seen = np.flatnonzero(counts)
        return np.asarray(sum(counts[cell] * table[:, cell].astype(float) for cell in seen))

    def log_at(
        self, trials: Sequence[MeasuredTrial], x: Array, y: Array, log_scale: Array
    ) -> Array:
        """Return the log likelihood of trials that gather each elsewhere: family, then the rest.

        `x`, `y` and `log_scale` have a first axis of one entry a trial and broadcast together.
        """
        total: Array | float = 0.0
        number = [at for at, trial in enumerate(trials) if trial.hit is not None]
        if number:
            hits = np.array([trial.hit for trial in trials if trial.hit is not None])
            wide = (slice(None), *(None,) * (x.ndim - 1))
            away = (hits[:, 0][wide] - x[number]) ** 2 + (hits[:, 1][wide] - y[number]) ** 2
            scale = log_scale[number]
            ratio = away * np.exp(-2 * scale)
            normal = (-ratio / 2 - 2 * scale).sum(axis=0)
            heavy = (-2.5 * np.log1p(ratio / 3) - 2 * scale).sum(axis=0)
            calm = (-2.5 * np.log1p(ratio) - 2 * scale + np.log(3)).sum(axis=0)
            total = np.stack([normal, heavy, calm]) - len(number) * np.log(2 * np.pi)
        number = [at for at, trial in enumerate(trials) if trial.hit is None]
        if number:
            cells = np.array([self.cell_of(trials[at]) for at in number])
            total = total + self._log_cells_at(cells, x[number], y[number], log_scale[number])
        return np.asarray(total)

    def _log_cells_at(self, cells: Array, x: Array, y: Array, log_scale: Array) -> Array:
        table = cell_chances(self.cells)
        most = FINE_HALF
        column = np.clip(np.rint(x / FINE_STEP), -most, most).astype(np.intp) + most
        line = np.clip(np.rint(y / FINE_STEP), -most, most).astype(np.intp) + most
        size = np.rint((log_scale - LOG_SCALES[0]) / LOG_STEP).astype(np.intp)
        size = np.clip(size, CALMER, len(SCALES) - 1)
        cell = cells[(slice(None), *(None,) * (x.ndim - 1))]
        families = ((0, 0), (1, 0), (1, CALMER))
        return np.stack(
            [np.log(table[family, cell, line, column, size - less]).sum(axis=0, dtype=float)
             for family, less in families]
        )  # fmt: skip


def _log_hits(hits: Sequence[tuple[float, float]]) -> tuple[Array, Array]:
    """Return the log likelihood of hits under normal and t noise: y, x, scatter."""
    at = places()
    marks = np.array(hits)
    n = len(marks)
    variances = SCALES * SCALES
    middle = marks.mean(axis=0)
    squares = ((marks - middle) ** 2).sum()
    off = (at[None, :] - middle[0]) ** 2 + (at[:, None] - middle[1]) ** 2
    level = -n * np.log(2 * np.pi * variances)
    normal = level - (squares + n * off)[..., None] / (2 * variances)
    tails = np.zeros((SIDE, SIDE, len(SCALES)))
    for begin in range(0, n, _AT_ONCE):
        product = np.ones_like(tails)
        for x, y in marks[begin : begin + _AT_ONCE]:
            away = (at[None, :] - x) ** 2 + (at[:, None] - y) ** 2
            product *= 1 + away[..., None] / (3 * variances)
        tails += np.log(product)
    return normal, level - 2.5 * tails


def build_blocks(trial_set: TrialSet, telling: Telling) -> list[Block]:
    """Return the trials of a group in blocks, each with its likelihood."""
    grouped: dict[tuple[object, ...], list[MeasuredTrial]] = {}
    for trial in trial_set.trials:
        key = (
            trial.student, trial.own_part if trial_set.is_exchanged else "", trial.guest,
            trial.device, trial.device_name, trial.other_handling, trial.distance_ratio,
        )  # fmt: skip
        grouped.setdefault(key, []).append(trial)
    return [_build(tuple(trials), telling, str(key[1])) for key, trials in grouped.items()]


def _build(trials: tuple[MeasuredTrial, ...], telling: Telling, own_part: str) -> Block:
    first = trials[0]
    logs = telling.log_grid(trials)
    most = float(logs.max())
    grid = np.exp(logs - most) @ scatter_weights()
    grid = np.moveaxis(grid, -1, 1)
    matrix = blur(float(np.hypot(GUEST_PULL_SD if first.guest else PULL_SD, DEVICE_SD)))
    grid = matrix @ grid @ matrix.T
    return Block(
        student=first.student,
        own_part=own_part,
        guest=first.guest,
        device=first.device,
        device_name=first.device_name,
        other_handling=first.other_handling,
        distance_ratio=first.distance_ratio,
        trials=trials,
        likelihood=grid.reshape(*grid.shape[:2], SIDE * SIDE),
        log_scale=most,
    )


def uses_positions(trial_set: TrialSet) -> bool:
    """Tell whether positions are known."""
    return trial_set.evidence is Evidence.POSITIONS
