"""How likely each cell of a panel is, for each place where hits gather and each scatter.

In: the panel with its cells. Out: one array, worked out once a panel: normal noise, and a t with
three degrees of freedom as normals of twelve scales. This module imports numpy.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from math import erf

import numpy as np
from numpy.typing import NDArray

from journal.analysis.diagnosis.cells import CellFrame
from journal.analysis.diagnosis.grid import FINE_HALF, FINE_STEP, SCALES, Array

#: No cell has a probability below this.
_LEAST = 1e-7
#: Scales that stand for a t, equally likely.
_MIXED = 12
_erf = np.vectorize(erf, otypes=[float])


@lru_cache(maxsize=8)
def cell_chances(frame: CellFrame) -> NDArray[np.float32]:
    """Return the chances: family (normal, t), cell, y, x, scatter; y and x on the fine grid."""
    heavy = sum(_normal_chances(frame, scale) for scale in _scales_of_t()) / _MIXED
    table = np.stack([_normal_chances(frame, 1.0), heavy])
    return np.asarray(np.maximum(table, _LEAST), dtype=np.float32)


@lru_cache(maxsize=8)
def log_cell_chances(frame: CellFrame) -> NDArray[np.float32]:
    """Return the natural logarithms of `cell_chances`."""
    return np.asarray(np.log(cell_chances(frame)), dtype=np.float32)


def _scales_of_t() -> Array:
    """Return sqrt(3 / chi-square with 3 degrees of freedom) at the middles of twelve quantiles."""
    x = np.linspace(0, 30, 6001)
    below = _erf(np.sqrt(x / 2)) - np.sqrt(2 * x / np.pi) * np.exp(-x / 2)
    at = np.interp((np.arange(_MIXED) + 0.5) / _MIXED, below, x)
    return np.asarray(np.sqrt(3 / at))


def _normal_chances(frame: CellFrame, scale: float) -> Array:
    scales = scale * SCALES
    panel = (
        _within(frame.left, frame.right, scales)[None]
        * (_within(frame.bottom, frame.top, scales)[:, None])
    )
    if frame.rings:
        return _ring_chances(frame, scales, panel)
    insides = []
    for half in frame.sizes:
        side = _within(-half, half, scales)
        insides.append(np.minimum(side[None] * side[:, None], panel))
    edges = [np.zeros_like(panel), *insides, panel, np.ones_like(panel)]
    return np.stack([outer - inner for inner, outer in pairwise(edges)])


def _within(low: float, high: float, scales: Array) -> Array:
    """Return how likely one axis lies between two edges: row a middle, column a scatter."""
    middles = FINE_STEP * np.arange(-FINE_HALF, FINE_HALF + 1)[:, None]
    divisor = scales[None, :] * np.sqrt(2)
    return np.asarray((_erf((high - middles) / divisor) - _erf((low - middles) / divisor)) / 2)


def _ring_chances(frame: CellFrame, scales: Array, panel: Array) -> Array:
    """Return the chance of each ring by Rice's density; corners beyond the panel are taken out."""
    ends = np.array((0.0, *frame.sizes))
    at = (ends[1:] + ends[:-1]) / 2
    axis = np.abs(np.arange(-FINE_HALF, FINE_HALF + 1))
    away = np.rint(np.hypot(axis[:, None], axis[None, :])).astype(int)
    off = FINE_STEP * np.arange(away.max() + 1)
    variance = (scales * scales)[None, :]
    rings = []
    for middle, breadth in zip(at, np.diff(ends), strict=True):
        x = middle * off[:, None] / variance
        near = np.i0(np.minimum(x, 30.0)) * np.exp(-np.minimum(x, 30.0))
        far = (1 + 1 / (8 * np.maximum(x, 30.0))) / np.sqrt(2 * np.pi * np.maximum(x, 30.0))
        density = middle / variance * np.exp(-((middle - off[:, None]) ** 2) / (2 * variance))
        rings.append(density * np.where(x < 30.0, near, far) * breadth)  # noqa: PLR2004 - as above
    chances = np.stack(rings)[:, away]
    edge = min(-frame.left, frame.right, -frame.bottom, frame.top)
    whole = at < edge
    inner = chances[whole].sum(axis=0)
    over = chances[~whole].sum(axis=0)
    share = np.clip((panel - inner) / np.maximum(over, _LEAST), 0, 1)
    chances[~whole] *= share
    rest = np.maximum(panel - chances.sum(axis=0), 0)
    return np.concatenate([chances, [rest, np.maximum(1 - panel, 0)]])
