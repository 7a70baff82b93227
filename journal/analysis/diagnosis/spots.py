"""Where a device may gather, sound or with an offset: the points of the integral for positions.

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

_GRID_HALF = 8


@lru_cache(maxsize=1)
def usual_spots() -> tuple[Spot, ...]:
    """Return where a sound device gathers."""
    axis = spread_normally(DEVICE_PULL, 2)
    return tuple((x, y, wx * wy) for x, wx in axis for y, wy in axis)


@lru_cache(maxsize=1)
def offset_spots() -> tuple[tuple[Spot, ...], tuple[Spot, ...]]:
    """Return a coarse and a fine grid of where a device with an offset gathers."""
    ring = [
        (size * cos(2 * pi * turn / 72), size * sin(2 * pi * turn / 72),
         weight * direction_density(2 * pi * turn / 72) * 2 * pi / 72)
        for half in (OFFSET[0], sum(OFFSET) / 2)
        for size, weight in spread_evenly((half, half + (OFFSET[1] - OFFSET[0]) / 2), 3)
        for turn in range(72)
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
    return tuple((x, y, w / total) for x, y, w in spots if w > 1e-4 * total / len(spots))
