"""The points at which the diagnosis takes its integral: places, scatters, and their prior weights.

In: nothing. Out: arrays, worked out once. This module imports numpy, so it is imported late.

A place is where hits gather, on a square grid; a fine one of half the step serves the tables of
cells. Scatters lie on a scale of logarithms of which six steps are a factor 3, so that a t with the
normal's standard deviation (scale / sqrt 3) lies three steps lower.
"""

from __future__ import annotations

from functools import lru_cache
from math import log, pi

import numpy as np
from numpy.typing import NDArray

from journal.analysis.diagnosis.causes import (
    EXTRA,
    LOG_SCATTER_SD,
    LOW_SHARE,
    OFFSET,
    PULL,
    SCATTER,
    WIDER,
)

Array = NDArray[np.float64]
Numbers = NDArray[np.intp]

#: Step of the grid of places (30 mm on the panel), and how many steps it reaches either way.
STEP = 0.3
HALF = 14
SIDE = 2 * HALF + 1
#: The fine grid.
FINE_STEP = STEP / 2
FINE_HALF = 2 * HALF
#: Scatters of the tables; those of the model leave out the lowest `CALMER`, which only the calm t
#: reaches, whose scale lies so many steps lower.
LOG_STEP = log(3) / 6
CALMER = 3
_LOWEST, _MANY = 8, 18
LOG_SCALES: Array = np.asarray(
    log(SCATTER) + LOG_STEP * np.arange(-_LOWEST, _MANY - _LOWEST), dtype=float
)
SCALES: Array = np.asarray(np.exp(LOG_SCALES), dtype=float)
#: Kinds of scatter: usual, of a poor use, with a scattering device, with both.
USUAL, WIDE, EXTRA_WIDE, BOTH_WIDE = range(4)


def places() -> Array:
    """Return the coordinates of the grid along one axis."""
    return np.asarray(STEP * np.arange(-HALF, HALF + 1), dtype=float)


@lru_cache(maxsize=1)
def scatter_weights() -> Array:
    """Return the prior weight of each scatter of the model, one column a kind of scatter."""
    steps = (np.arange(41) - 20) / 8
    bell = np.exp(-steps * steps / 2)
    bell /= bell.sum()
    own = SCATTER * np.exp(LOG_SCATTER_SD * steps)
    wide = own[:, None] * _evenly(WIDER)[None, :]
    extra = np.broadcast_to(_evenly(EXTRA), wide.shape)
    kinds = (
        np.broadcast_to(own[:, None], wide.shape),
        wide,
        np.hypot(own[:, None], extra),
        np.hypot(wide, _evenly(EXTRA)[::-1]),
    )
    weights = np.broadcast_to(bell[:, None] / wide.shape[1], wide.shape).ravel()
    return np.stack([_share_out(kind.ravel(), weights) for kind in kinds], axis=1)


def _evenly(ends: tuple[float, float]) -> Array:
    return np.asarray(np.linspace(*ends, 40), dtype=float)


def _share_out(scales: Array, weights: Array) -> Array:
    """Share weights out among the two scatters of the model on either side."""
    last = _MANY - CALMER - 1
    at = np.clip((np.log(scales) - LOG_SCALES[CALMER]) / LOG_STEP, 0, last - 1e-9)
    low = at.astype(int)
    shared = np.bincount(low, weights * (1 - (at - low)), last + 1)
    shared += np.bincount(low + 1, weights * (at - low), last + 1)
    return np.asarray(shared, dtype=float)


@lru_cache(maxsize=4)
def offsets(step: int = 1) -> tuple[Array, Array]:
    """Return the places (x, y) of a shared offset, in steps of the grid, and their weights.

    `step` thins the grid out: 2 takes each second place along either axis.
    """
    turns = 2 * pi * (np.arange(144) + 0.5) / 144
    low = np.abs(turns - 1.5 * pi) <= pi / 4
    share = np.where(low, LOW_SHARE / low.sum(), 0.0) + (1 - LOW_SHARE) / len(turns)
    return _gather(OFFSET, turns, share, step)


@lru_cache(maxsize=1)
def pulls() -> tuple[Array, Array]:
    """Return the places of a member who pulls, in steps of the grid, and their weights."""
    turns = 2 * pi * np.arange(144) / 144
    return _gather(PULL, turns, np.full(len(turns), 1 / len(turns)), 1)


def _gather(
    ends: tuple[float, float], turns: Array, share: Array, step: int
) -> tuple[Array, Array]:
    """Return grid places about the aim point, and how much of a ring falls to each."""
    sizes = _evenly(ends)
    x = np.rint(np.outer(sizes, np.cos(turns)) / (STEP * step)).astype(int) * step
    y = np.rint(np.outer(sizes, np.sin(turns)) / (STEP * step)).astype(int) * step
    weight = np.broadcast_to(share / len(sizes), x.shape)
    spots, number = np.unique(np.stack([x.ravel(), y.ravel()], axis=1), axis=0, return_inverse=True)
    return spots.astype(float), np.asarray(np.bincount(number.ravel(), weight.ravel()), dtype=float)


def flat_index(spots: Array, times: float = 1.0) -> Numbers:
    """Return the numbers of `spots` (in steps of the grid, `times` multiplied) when flattened."""
    at = np.clip(np.rint(spots * times), -HALF, HALF).astype(np.intp) + HALF
    return at[:, 1] * SIDE + at[:, 0]


@lru_cache(maxsize=4)
def blur(sd: float) -> Array:
    """Return the matrix that blurs a grid along one axis by a normal variable with this `sd`."""
    away = places()[:, None] - places()[None, :]
    matrix = np.exp(-away * away / (2 * sd * sd))
    matrix /= matrix.sum(axis=1, keepdims=True)
    return np.asarray(matrix)
