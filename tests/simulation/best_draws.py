"""Draws of what the group shares and of what one student carries, for the best possible.

Lengths in units of 100 mm, variances in their square; arrays of float32, a row for each draw of
what is shared.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import pi

import numpy as np
from scipy.special import ndtri

Array = np.ndarray
#: Variance of where a student gathers, an axis.
PULL = 0.25**2
#: Rows that are made once, to pick from: making them anew would take longer than using them.
ROWS = 8192
SEED = 4711


@dataclass(frozen=True, slots=True)
class Seen:
    """One student's trials that were no misfire."""

    x: Array
    y: Array
    load: Array
    beyond: Array


@dataclass(frozen=True, slots=True)
class Shared:
    """Where the device gathers, how much a load lowers, the variance the device adds."""

    x: Array
    y: Array
    slope: Array
    extra: Array


def draw_evenly(rng: np.random.Generator, low: float, high: float, draws: int) -> Array:
    """Return draws that are spread evenly, one in each of as many parts, in mixed order."""
    return low + (high - low) * (rng.permutation(draws) + rng.random(draws)) / draws


def pick(rng: np.random.Generator, rows: Array, draws: int) -> Array:
    """Return so many rows that follow each other, from anywhere."""
    start = int(rng.integers(0, len(rows) - draws + 1))
    return rows[start : start + draws]


@lru_cache
def variances(points: int) -> Array:
    """Return variances of a student's scatter."""
    rng = np.random.default_rng([SEED, points])
    return _single(_variances(rng, points))


@lru_cache
def wide_variances(points: int) -> Array:
    """Return variances of a student whose use scatters."""
    rng = np.random.default_rng([SEED, points, 1])
    times = 2.2 + 1.3 * _parts(rng, points)
    return _single(_variances(rng, points) * times**2)


@lru_cache
def far_pulls(points: int) -> Array:
    """Return pulls of a use that pulls: x and y."""
    rng = np.random.default_rng([SEED, points, 2])
    turn = 2 * pi * (np.arange(points) + rng.random((ROWS, 1))) / points
    size = 1.2 + _parts(rng, points)
    return _single(np.stack([size * np.cos(turn), size * np.sin(turn)], axis=2))


@lru_cache
def near_pulls(points: int) -> Array:
    """Return pulls of a good use: x and y."""
    rng = np.random.default_rng([SEED, points, 3])
    return _single(np.stack([PULL**0.5 * ndtri(_parts(rng, points)) for _ in range(2)], axis=2))


def _variances(rng: np.random.Generator, points: int) -> Array:
    return (0.9 * np.exp(0.25 * ndtri(_parts(rng, points)))) ** 2


def _parts(rng: np.random.Generator, points: int) -> Array:
    """Return rows of numbers between 0 and 1, one in each of as many parts, in mixed order."""
    return rng.permuted((np.arange(points) + rng.random((ROWS, points))) / points, axis=1)


def _single(rows: Array) -> Array:
    return rows.astype(np.float32)


def average(logs: Array) -> Array:
    """Return the logarithm of the mean of each row."""
    top = logs.max(1)
    return top + np.log(np.exp(logs - top[:, None]).mean(1))
