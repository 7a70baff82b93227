"""One student's likelihood under the first generator, by formula and by draws.

In: the student's trials and draws of what the group shares. Out: log likelihoods, one a draw, under
good and under poor use. Lengths in units of 100 mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

import numpy as np
from scipy.special import i0e, ndtr, ndtri

from tests.simulation.classrooms import ZONES, Telling

EDGE = 3.0
HALVES = np.array([half_mm / 100 for half_mm, _ in ZONES])
Array = np.ndarray


@dataclass(frozen=True, slots=True)
class Seen:
    """One student's trials that were no misfire."""

    x: Array
    y: Array
    load: Array
    beyond: Array


def draw_evenly(rng: np.random.Generator, low: float, high: float, draws: int) -> Array:
    """Return draws that are spread evenly, one in each of as many parts, in mixed order."""
    return low + (high - low) * (rng.permutation(draws) + rng.random(draws)) / draws


def _sizes(rng: np.random.Generator, draws: int, points: int) -> Array:
    """Return variances of a student's scatter, evenly spread over their distribution."""
    part = (np.arange(points) + rng.random((draws, 1))) / points
    return (0.9 * np.exp(0.25 * ndtri(part))) ** 2


def weigh_hits(
    rng: np.random.Generator,
    seen: Seen,
    spots: Array,
    slope: Array,
    extra: Array,
    telling: Telling,
    ask: bool,  # noqa: FBT001 - handed on
) -> tuple[Array, Array]:
    """Weigh positions: formulas but for hits beyond the panel."""
    draws = len(slope)
    hits = ~seen.beyond
    n = int(hits.sum())
    if n:
        mean_x = np.full(draws, seen.x[hits].mean())
        lifted = seen.y[hits] + slope[:, None] * seen.load[hits]
        mean_y = lifted.mean(1)
        squares = ((seen.x[hits] - mean_x[0]) ** 2).sum() + ((lifted - mean_y[:, None]) ** 2).sum(1)
    else:
        mean_x = mean_y = squares = np.zeros(draws)

    def gather(variance: Array, pulled: Array | None) -> Array:
        """Return log likelihoods, averaged over the second axis."""
        centre = spots[:, None, :] if pulled is None else spots[:, None, :] + pulled
        logs = np.zeros(variance.shape)
        at = np.broadcast_to(centre, (*variance.shape, 2))
        left = np.full(variance.shape, 0.0625)
        if n:
            pull = variance / n + 0.0625
            dx, dy = mean_x[:, None] - centre[..., 0], mean_y[:, None] - centre[..., 1]
            logs = (
                (1 - n) * np.log(2 * pi * variance)
                - np.log(n)
                - squares[:, None] / (2 * variance)
                - np.log(2 * pi * pull)
                - (dx**2 + dy**2) / (2 * pull)
            )
            share = 0.0625 / pull
            at = centre + share[..., None] * np.stack([dx, dy], axis=2)
            left = 0.0625 * variance / n / pull
        if seen.beyond.any():
            # The student's middle given the hits, drawn; then each hit beyond is a plain chance.
            at = at + rng.normal(0, 1, at.shape) * np.sqrt(left)[..., None]
            sd = np.sqrt(variance)
            across = ndtr((EDGE - at[..., 0]) / sd) - ndtr((-EDGE - at[..., 0]) / sd)
            for load in np.unique(seen.load[seen.beyond]):
                times = int((seen.load[seen.beyond] == load).sum())
                height = at[..., 1] - slope[:, None] * load
                upward = ndtr((EDGE - height) / sd) - ndtr((-EDGE - height) / sd)
                logs = logs + times * np.log(np.maximum(1 - across * upward, 1e-12))
        top = logs.max(1, keepdims=True)
        return top[:, 0] + np.log(np.exp(logs - top).mean(1))

    points = 16 if seen.beyond.any() else 10
    good = gather(_sizes(rng, draws, points) + extra[:, None], None)
    if not ask:
        return good, good
    times = np.stack([draw_evenly(rng, 2.2, 3.5, draws) for _ in range(24)], axis=1)
    own = rng.permuted(_sizes(rng, draws, 24), axis=1)
    wide = gather(own * times**2 + extra[:, None], None)
    own = rng.permuted(_sizes(rng, draws, 96), axis=1)
    far = gather(own + extra[:, None], _pulls(rng, draws, 96))
    return good, np.logaddexp(wide, far) - np.log(2)


def _pulls(rng: np.random.Generator, draws: int, points: int) -> Array:
    """Return pulls of poor use: directions spread evenly, sizes in mixed order."""
    turn = 2 * pi * (np.arange(points) + rng.random((draws, 1))) / points
    size = np.array(1.2 + (np.arange(points) + 0.5) / points)[None, :].repeat(draws, 0)
    size = rng.permuted(size, axis=1)
    return np.stack([size * np.cos(turn), size * np.sin(turn)], axis=2)


def weigh_cells(
    rng: np.random.Generator,
    seen: Seen,
    spots: Array,
    slope: Array,
    extra: Array,
    telling: Telling,
    ask: bool,  # noqa: FBT001 - handed on
) -> tuple[Array, Array]:
    """Weigh points of zones or distances: draws of scatter and pull."""
    draws = len(slope)
    if not len(seen.x):
        return np.zeros(draws), np.zeros(draws)

    def gather(variance: Array, pulled: Array) -> Array:
        at = spots[:, None, :] + pulled
        sd = np.sqrt(variance)
        logs = np.zeros(variance.shape)
        loads = seen.load if slope.any() else np.zeros(len(seen.load))
        for load in np.unique(loads):
            own = loads == load
            x, y = at[..., 0], at[..., 1] - slope[:, None] * load
            chances = _points if telling is Telling.POINTS else _measures
            logs = logs + chances(seen, own, x, y, sd)
        top = logs.max(1, keepdims=True)
        return top[:, 0] + np.log(np.exp(logs - top).mean(1))

    points = 32
    own = rng.permuted(_sizes(rng, draws, points), axis=1)
    good = gather(own + extra[:, None], rng.normal(0, 0.25, (draws, points, 2)))
    if not ask:
        return good, good
    own = rng.permuted(_sizes(rng, draws, points), axis=1)
    times = rng.permuted(
        np.broadcast_to(2.2 + 1.3 * (np.arange(points) + 0.5) / points, (draws, points)), axis=1
    )
    wide = gather(own * times**2 + extra[:, None], rng.normal(0, 0.25, (draws, points, 2)))
    points = 64
    own = rng.permuted(_sizes(rng, draws, points), axis=1)
    pulled = _pulls(rng, draws, points) + rng.normal(0, 0.25, (draws, points, 2))
    far = gather(own + extra[:, None], pulled)
    return good, np.logaddexp(wide, far) - np.log(2)


def _within(half: float, x: Array, sd: Array) -> Array:
    return ndtr((half - x) / sd) - ndtr((-half - x) / sd)


def _points(seen: Seen, own: Array, x: Array, y: Array, sd: Array) -> Array:
    """Return the log likelihood of the squares that were hit."""
    far = np.maximum(abs(seen.x[own]), abs(seen.y[own]))
    cells = np.searchsorted(HALVES, far)
    logs = np.zeros(x.shape)
    for cell in np.unique(cells):
        outer = _within(HALVES[cell], x, sd) * _within(HALVES[cell], y, sd) if cell < 4 else 1.0
        inner = _within(HALVES[cell - 1], x, sd) * _within(HALVES[cell - 1], y, sd) if cell else 0.0
        logs = logs + (cells == cell).sum() * np.log(np.maximum(outer - inner, 1e-12))
    return logs


def _measures(seen: Seen, own: Array, x: Array, y: Array, sd: Array) -> Array:
    """Return the log likelihood of the distances from the aim point (Rice's density)."""
    logs = np.zeros(x.shape)
    beyond = int(seen.beyond[own].sum())
    if beyond:
        wall = 1 - _within(EDGE, x, sd) * _within(EDGE, y, sd)
        logs = logs + beyond * np.log(np.maximum(wall, 1e-12))
    off, variance = np.hypot(x, y), sd**2
    for size in np.hypot(seen.x[own], seen.y[own])[~seen.beyond[own]]:
        if size <= EDGE:
            inside = np.log(np.maximum(i0e(size * off / variance), 1e-300))
            logs = logs + np.log(size / variance) - (size - off) ** 2 / (2 * variance) + inside
            continue
        # Only in the corners: the arcs that lie on the panel, four points each.
        low, high = np.arccos(EDGE / size), np.arcsin(EDGE / size)
        turns = low + (high - low) * (np.arange(4) + 0.5) / 4
        density = sum(
            np.exp(
                -((size * np.cos(turn + quarter * pi / 2) - x) ** 2) / (2 * variance)
                - ((size * np.sin(turn + quarter * pi / 2) - y) ** 2) / (2 * variance)
            )
            for turn in turns
            for quarter in range(4)
        )
        density = density * size * (high - low) / (8 * pi * variance)
        logs = logs + np.log(np.maximum(density, 1e-300))
    return logs
