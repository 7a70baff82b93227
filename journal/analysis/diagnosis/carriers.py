"""The likelihood of a poor use, or a poor own part, of one or two.

In: blocks. Out: a likelihood by family of noise. This module imports numpy.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import comb

import numpy as np

from journal.analysis.diagnosis.blocks import Block
from journal.analysis.diagnosis.grid import (
    BOTH_WIDE,
    EXTRA_WIDE,
    USUAL,
    WIDE,
    Array,
    offsets,
    pulls,
)
from journal.analysis.diagnosis.trials import Device

#: Where a device is off as well, each so many of the places of a pull stand for all.
_THINNED = 6
_LEAST = 1e-300


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fault:
    """What is poor beside the carriers."""

    scatter: bool
    #: The offset is the members', and goes along with them; else it is the device's.
    shared: bool


def weigh_carriers(
    blocks: Sequence[Block], *, by_part: bool, offset: bool, scatter: bool, shared: bool
) -> Array:
    """Return the likelihood that one or two carry a fault, by family.

    Carriers are members, or own parts with `by_part`; with `offset` or `scatter` the own device is
    poor as well, with `shared` the use of all members.
    """
    fault = _Fault(scatter=scatter, shared=shared)
    grouped: dict[str, list[Block]] = {}
    rest: list[Block] = []
    for block in blocks:
        carrier = block.own_part if by_part else "" if block.guest else block.student
        if carrier or not (by_part or block.guest):
            grouped.setdefault(carrier, []).append(block)
        else:
            rest.append(block)
    spots, weights = offsets() if offset or shared else (np.zeros((1, 2)), np.ones(1))
    total = np.ones((3, len(weights)))
    for block in rest:
        total = total * _likelihood(block, spots, None, fault=fault, wide=False)
    singles: Array = np.zeros(1)
    pairs: Array = np.zeros(1)
    for own in grouped.values():
        good = _good(own, spots, fault=fault)
        bad = _bad(own, spots, fault=fault)
        ratio = bad / np.maximum(good, _LEAST)
        total = total * good
        pairs = pairs + singles * ratio
        singles = singles + ratio
    n = len(grouped)
    if n == 0:
        return np.asarray(total @ weights)
    carried = singles if n == 1 else (singles / n + pairs / comb(n, 2)) / 2
    return np.asarray((total * carried) @ weights)


def _good(own: Sequence[Block], spots: Array, *, fault: _Fault) -> Array:
    total = np.ones((3, len(spots)))
    for block in own:
        total = total * _likelihood(block, spots, None, fault=fault, wide=False)
    return total


def _bad(own: Sequence[Block], spots: Array, *, fault: _Fault) -> Array:
    wide = np.ones((3, len(spots)))
    for block in own:
        wide = wide * _likelihood(block, spots, None, fault=fault, wide=True)
    pulled_to, weights = pulls()
    if len(spots) > 1:
        pulled_to, weights = pulled_to[::_THINNED], weights[::_THINNED] / weights[::_THINNED].sum()
    pulled = np.ones((3, len(spots), len(weights)))
    for block in own:
        pulled = pulled * _likelihood(block, spots, pulled_to, fault=fault, wide=False)
    return np.asarray((wide + pulled @ weights) / 2)


def _likelihood(
    block: Block, spots: Array, pulled_to: Array | None, *, fault: _Fault, wide: bool
) -> Array:
    """Return the likelihood by family and place of the device, and by pull where there is one."""
    own_device = block.device is not Device.OTHER_GROUP
    goes_along = not block.guest if fault.shared else own_device
    kinds = {
        (False, False): USUAL, (False, True): WIDE, (True, False): EXTRA_WIDE,
        (True, True): BOTH_WIDE,
    }  # fmt: skip
    kind = kinds[fault.scatter and own_device, wide]
    places = spots if goes_along else np.zeros_like(spots)
    if pulled_to is None:
        return block.at(places, kind)
    both = (places[:, None, :] + pulled_to[None, :, :]).reshape(-1, 2)
    return block.at(both, kind).reshape(3, len(places), len(pulled_to))
