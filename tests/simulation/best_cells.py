"""How likely one student's zone points or distances are, given what the group shares: by draws.

In: trials, draws. Out: log likelihoods of good and poor use, one a draw of what is shared.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import log, pi

import numpy as np

from tests.simulation.best_draws import (
    Array,
    Seen,
    Shared,
    average,
    far_pulls,
    near_pulls,
    pick,
    variances,
    wide_variances,
)
from tests.simulation.classrooms import ZONES, Telling
from tests.simulation.special import find_log_i0e, find_within

EDGE = 3.0
HALVES = tuple(half_mm / 100 for half_mm, _ in ZONES)
GOOD, WIDE, FAR = 32, 32, 96
#: Less likely than this is taken as this: single precision tells no less.
LEAST = np.float32(1e-7)
#: Points an arc in a corner of the panel is summed at.
ARC = 4


def weigh_cells(
    rng: np.random.Generator, seen: Seen, shared: Shared, telling: Telling, *, ask: bool
) -> tuple[Array, Array]:
    """Return log likelihoods under good use, and where asked under poor use."""
    draws = len(shared.x)
    if not len(seen.x):
        return np.zeros(draws), np.zeros(draws)
    weigh = _weigh_points if telling is Telling.POINTS else _weigh_distances

    def gather(own: Array, pulled: Array) -> Array:
        """Return log likelihoods, averaged over each row of variances and pulls."""
        x, y = shared.x[:, None] + pulled[..., 0], shared.y[:, None] + pulled[..., 1]
        return average(weigh(seen, shared, own + shared.extra[:, None], x, y))

    good = gather(pick(rng, variances(GOOD), draws), pick(rng, near_pulls(GOOD), draws))
    if not ask:
        return good, good
    wide = gather(pick(rng, wide_variances(WIDE), draws), pick(rng, near_pulls(WIDE), draws))
    pulled = pick(rng, near_pulls(FAR), draws) + pick(rng, far_pulls(FAR), draws)
    far = gather(pick(rng, variances(FAR), draws), pulled)
    return good, np.logaddexp(wide, far) - np.float32(log(2))


def _by_load(seen: Seen, shared: Shared) -> Iterator[tuple[Array, Array]]:
    """Return which trials had one load, and how far it lowers: one load if none does."""
    if not shared.slope.any():
        yield np.ones(len(seen.x), dtype=bool), np.zeros((1, 1), dtype=np.float32)
        return
    for load in np.unique(seen.load):
        yield seen.load == load, shared.slope[:, None] * np.float32(load)


def _weigh_points(seen: Seen, shared: Shared, variance: Array, x: Array, y: Array) -> Array:
    """Return the log likelihood of the squares that were hit."""
    scale = np.sqrt(np.float32(0.5) / variance)
    cells = np.searchsorted(HALVES, np.maximum(abs(seen.x), abs(seen.y)))
    edges = {edge for cell in cells for edge in (cell - 1, cell)} & set(range(len(HALVES)))
    across = {edge: find_within(HALVES[edge], x, scale) for edge in edges}
    logs: Array = np.zeros_like(variance)
    for own, drop in _by_load(seen, shared):
        inside: dict[int, Array] = {}
        for cell, times in zip(*np.unique(cells[own], return_counts=True), strict=True):
            for edge in {cell - 1, cell} & edges - inside.keys():
                inside[edge] = across[edge] * find_within(HALVES[edge], y - drop, scale)
            chance = inside.get(cell, np.float32(1)) - inside.get(cell - 1, np.float32(0))
            logs += int(times) * np.log(np.maximum(chance, LEAST))
    return logs


def _weigh_distances(seen: Seen, shared: Shared, variance: Array, x: Array, y: Array) -> Array:
    """Return the log likelihood of distances from the aim point: Rice's density, and the wall."""
    scale = np.sqrt(np.float32(0.5) / variance)
    across = find_within(EDGE, x, scale) if seen.beyond.any() else None
    precision = 1 / variance
    logs: Array = np.zeros_like(variance)
    for own, drop in _by_load(seen, shared):
        height = y - drop
        if across is not None and (times := int((own & seen.beyond).sum())):
            wall = 1 - across * find_within(EDGE, height, scale)
            logs += times * np.log(np.maximum(wall, LEAST))
        off = np.sqrt(x * x + height * height)
        sizes = np.hypot(seen.x[own & ~seen.beyond], seen.y[own & ~seen.beyond])
        logs += len(sizes) * np.log(precision)
        for size in sizes.astype(np.float32):
            if size <= EDGE:
                logs += find_log_i0e(size * off * precision) + np.log(size)
                logs -= (size - off) ** 2 * precision / 2
            else:
                logs += _weigh_corner(float(size), x, height, precision)
    return logs


def _weigh_corner(size: float, x: Array, y: Array, precision: Array) -> Array:
    """Return the log density, over the precision, of a distance that only corners have."""
    low, high = np.arccos(EDGE / size), np.arcsin(EDGE / size)
    turns = low + (high - low) * (np.arange(ARC) + 0.5) / ARC
    density = np.zeros_like(precision)
    for turn in (turns[:, None] + np.arange(4) * pi / 2).ravel():
        dx, dy = np.float32(size * np.cos(turn)) - x, np.float32(size * np.sin(turn)) - y
        density += np.exp(-(dx * dx + dy * dy) * precision / 2)
    density *= np.float32(size * (high - low) / (2 * pi * ARC))
    return np.log(np.maximum(density, LEAST))
