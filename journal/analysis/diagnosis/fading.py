"""The likelihood of a use that fades with practice, and of a load: hits move from trial to trial.

In: blocks with their trials. Out: likelihoods by family of noise, on the same scale as the blocks'.
This module imports numpy.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from journal.analysis.diagnosis.blocks import Block, Telling, uses_positions
from journal.analysis.diagnosis.causes import (
    DEVICE_SD,
    EXTRA,
    FADING_KINDS,
    FADING_LAUNCHES,
    FADING_POWER,
    GUEST_PULL_SD,
    LOG_SCATTER_SD,
    PULL_SD,
    SCATTER,
    SLOPE,
)
from journal.analysis.diagnosis.grid import STEP, Array, offsets
from journal.analysis.diagnosis.trials import Device

#: Gauss-Hermite points of three for a standard normal variable (Abramowitz & Stegun, Handbook of
#: Mathematical Functions, 1964, table 25.10, from memory).
_BELL = ((-(3**0.5), 1 / 6), (0.0, 2 / 3), (3**0.5, 1 / 6))
#: Gauss-Legendre points of three on -1..1 (there, table 25.4).
_EVEN = ((-(0.6**0.5), 5 / 18), (0.0, 8 / 18), (0.6**0.5, 5 / 18))
#: Four points at sqrt 2 along the axes stand for a normal variable in the plane, to degree 3.
_CROSS = ((2**0.5, 0.0), (-(2**0.5), 0.0), (0.0, 2**0.5), (0.0, -(2**0.5)))


def likelihood_of_fading(blocks: Sequence[Block], telling: Telling) -> Array:
    """Return the likelihood, by family, of members' blocks under a shared use that fades."""
    spots, weights = offsets(2)
    total = np.zeros(3)
    for shape in (_exponential, _power):
        for chance, has_offset, wider in FADING_KINDS:
            if has_offset:
                product = _product(blocks, telling, shape, spots * STEP, wider)
                total += chance / 2 * (product @ weights)
            else:
                product = _product(blocks, telling, shape, np.zeros((1, 2)), wider)
                total += chance / 2 * product[:, 0]
    return total


def _exponential(practice: Array) -> Array:
    return np.asarray(np.exp(-practice / FADING_LAUNCHES))


def _power(practice: Array) -> Array:
    return np.asarray((1 + practice) ** -FADING_POWER)


def _product(
    blocks: Sequence[Block],
    telling: Telling,
    fade_by: Callable[[Array], Array],
    spots: Array,
    wider: float,
) -> Array:
    product = np.ones((3, len(spots)))
    for block in blocks:
        fade = fade_by(np.array([trial.practice for trial in block.trials]))
        # Axes: trial, place, pull, scatter.
        x = (block.distance_ratio * fade)[:, None] * spots[None, :, 0]
        y = (block.distance_ratio * fade)[:, None] * spots[None, :, 1]
        product *= _of_block(block, telling, x, y, np.log1p(wider * fade))
    return product


def likelihood_of_load(
    blocks: Sequence[Block], telling: Telling, *, offset: bool = False, scatter: bool = False
) -> Array:
    """Return the likelihood, by family, of blocks whose hits sink with the load of each trial.

    With `offset` or `scatter` the own device misses the same way, or scatters, as well.
    """
    middle, half = sum(SLOPE) / 2, (SLOPE[1] - SLOPE[0]) / 2
    slopes = np.array([middle + half * at for at, _ in _EVEN])
    spots, weights = offsets(2) if offset else (np.zeros((1, 2)), np.ones(1))
    wider = float(np.log(np.hypot(SCATTER, sum(EXTRA) / 2) / SCATTER)) if scatter else 0.0
    product = np.ones((3, len(spots) * len(slopes)))
    for block in blocks:
        own = block.device is not Device.OTHER_GROUP
        loads = np.array([trial.load for trial in block.trials])
        x, y = STEP * spots.T[:, :, None] * (block.distance_ratio if own else 0.0)
        x = np.broadcast_to(x + 0 * slopes, (len(spots), len(slopes))).ravel()
        y = (y - loads[:, None, None] * slopes).reshape(len(loads), -1)
        log_wider = np.full(len(loads), wider if own else 0.0)
        product *= _of_block(block, telling, np.broadcast_to(x, y.shape), y, log_wider)
    both = weights[:, None] * np.array([weight for _, weight in _EVEN])
    return np.asarray(product @ both.ravel())


def _of_block(block: Block, telling: Telling, x: Array, y: Array, log_wider: Array) -> Array:
    """Return the likelihood of a block by family and place, over the person's pull and scatter.

    `x` and `y` are (trial, place); `log_wider` is added to the logarithm of the scatter.
    """
    sd = float(np.hypot(GUEST_PULL_SD if block.guest else PULL_SD, DEVICE_SD))
    log_scales = np.array([np.log(SCATTER) + LOG_SCATTER_SD * at for at, _ in _BELL])
    scale = log_wider[:, None, None, None] + log_scales[None, None, None, :]
    if uses_positions(telling.trial_set):
        cross = sd * np.array(_CROSS)
    else:
        # Cells are coarse: the pull enters as a little more scatter.
        cross = np.zeros((1, 2))
        scale = np.log(np.exp(2 * scale) + sd * sd) / 2
    logs = telling.log_at(
        block.trials,
        x[:, :, None, None] + cross[None, None, :, 0, None],
        y[:, :, None, None] + cross[None, None, :, 1, None],
        scale,
    )
    likelihood = np.exp(np.minimum(logs - block.log_scale, 700))
    weights = np.array([weight for _, weight in _BELL])
    return np.asarray((likelihood @ weights).mean(axis=-1))
