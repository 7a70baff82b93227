"""Quadrature points for the centre of a device, sound or with an offset, where positions are known.

In: nothing. Out: spots with weights, in units from the aim point.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import cos, exp, pi, sin

from journal.analysis.diagnosis.causes import (
    DEVICE_PULL,
    OFFSET,
    direction_density,
    spread_evenly,
    spread_normally,
)
from journal.analysis.diagnosis.sums import GRID_STEP, Spot

#: Rows of the fine grid on either side of the aim point: 8 steps of 0.4 units reach 3.2 units, past
#: the farthest offset (2.6) by three standard deviations of `DEVICE_PULL`.
_GRID_HALF = 8
#: Directions in which the ring of offsets is sampled: every 5 degrees.
_RING_TURNS = 72
#: Grid points with less than this share of the mean weight are dropped.
_LEAST_SHARE = 1e-4


@lru_cache(maxsize=1)
def usual_spots() -> tuple[Spot, ...]:
    """Return the centres of a sound device: two Gauss-Hermite points in each axis."""
    axis = spread_normally(DEVICE_PULL, 2)
    return tuple((x, y, wx * wy) for x, wx in axis for y, wy in axis)


@lru_cache(maxsize=1)
def offset_spots() -> tuple[tuple[Spot, ...], tuple[Spot, ...]]:
    """Return a coarse and a fine grid for the centre of a device with an offset."""
    ring = [
        (size * cos(2 * pi * turn / _RING_TURNS), size * sin(2 * pi * turn / _RING_TURNS),
         weight * direction_density(2 * pi * turn / _RING_TURNS) * 2 * pi / _RING_TURNS)
        for half in (OFFSET[0], sum(OFFSET) / 2)
        for size, weight in spread_evenly((half, half + (OFFSET[1] - OFFSET[0]) / 2), 3)
        for turn in range(_RING_TURNS)
    ]  # fmt: skip
    return _grid(ring, 2), _grid(ring, 1)


def _grid(ring: Sequence[Spot], stride: int) -> tuple[Spot, ...]:
    steps = [GRID_STEP * at for at in range(-_GRID_HALF, _GRID_HALF + 1, stride)]
    spots = [
        (
            x,
            y,
            sum(
                share * exp(-((x - rx) ** 2 + (y - ry) ** 2) / (2 * DEVICE_PULL))
                for rx, ry, share in ring
            ),
        )
        for x in steps
        for y in steps
    ]
    total = sum(weight for _, _, weight in spots)
    return tuple((x, y, w / total) for x, y, w in spots if w > _LEAST_SHARE * total / len(spots))
