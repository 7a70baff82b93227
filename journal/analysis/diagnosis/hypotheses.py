"""The likelihood of all trials of a group under each set of causes that is modelled.

In: blocks. Out: a likelihood by family of noise. This module imports numpy.

The question is about the newest revision of the own device. An older revision that was launched may
have the same fault, be sound, or have a fault of its own; another group's device is taken for
sound. What all members share goes along with them to every device, and stays away from guests.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

import numpy as np

from journal.analysis.diagnosis.blocks import Block, Telling
from journal.analysis.diagnosis.carriers import weigh_carriers
from journal.analysis.diagnosis.causes import (
    OLDER_OTHER,
    OLDER_POOR,
    OLDER_SAME,
    OLDER_SOUND,
    Cause,
)
from journal.analysis.diagnosis.fading import likelihood_of_fading, likelihood_of_load
from journal.analysis.diagnosis.grid import EXTRA_WIDE, USUAL, Array, offsets
from journal.analysis.diagnosis.trials import Device

#: Likelihood of one block by family and place.
OfBlock = Callable[[Block], Array]


class Hypotheses:
    """Weighs sets of causes."""

    def __init__(self, blocks: Sequence[Block], telling: Telling) -> None:
        """Sort the blocks by device."""
        self.blocks = blocks
        self.telling = telling
        self.newest = [block for block in blocks if block.device is Device.NEWEST]
        self.elsewhere = [block for block in blocks if block.device is Device.OTHER_GROUP]
        self.older: dict[str, list[Block]] = {}
        for block in blocks:
            if block.device is Device.OLDER:
                self.older.setdefault(block.device_name, []).append(block)
        self._spots, self._weights = offsets()
        #: The likelihood of each older revision with an offset of its own.
        self._other = {name: self._own_offset(own) for name, own in self.older.items()}

    def weigh(self, causes: frozenset[Cause]) -> Array:
        """Return the likelihood, by family, of a set of causes without the mechanism."""
        kind = EXTRA_WIDE if Cause.DEVICE_SCATTER in causes else USUAL
        ways: tuple[tuple[set[Cause], Callable[[], Array]], ...] = (
            ({Cause.DEVICE_OFFSET, Cause.USE_ALL_STEADY}, self._offset_and_steady),
            ({Cause.DEVICE_OFFSET, Cause.LOAD}, lambda: self._load(offset=True)),
            ({Cause.DEVICE_SCATTER, Cause.LOAD}, lambda: self._load(scatter=True)),
            ({Cause.USE_SOME}, lambda: self._some(causes)),
            ({Cause.OWN_PART}, lambda: self._some(causes)),
            ({Cause.DEVICE_OFFSET}, lambda: self._offset(kind)),
            ({Cause.USE_ALL_STEADY}, lambda: self._steady(kind)),
            ({Cause.USE_ALL_FADING}, lambda: self._moving(likelihood_of_fading, members=True)),
            ({Cause.LOAD}, lambda: self._moving(likelihood_of_load, members=False)),
            ({Cause.DEVICE_SCATTER}, self._scatter),
            (set(), self._nothing),
        )
        return next(way() for needed, way in ways if needed <= causes)

    def _own_offset(self, blocks: Sequence[Block]) -> Array:
        return _product(blocks, lambda block: block.at(self._spots, USUAL)) @ self._weights

    def _nothing(self) -> Array:
        total = _product(self.elsewhere, _sound)
        for handling, own in _by_handling(self.newest).items():
            sound = _product(own, _sound)
            if handling:
                # Another way of handling may have been poor, as an older revision may.
                sound = (1 - OLDER_POOR) * sound + OLDER_POOR * self._own_offset(own)[:, None]
            total = total * sound
        return (total * self._older_sound(_sound))[:, 0]

    def _older_sound(self, of_block: OfBlock) -> Array:
        """Return the likelihood of older revisions where the newest is sound."""
        total = np.ones((3, 1))
        for name, own in self.older.items():
            sound = _product(own, of_block)
            total = total * ((1 - OLDER_POOR) * sound + OLDER_POOR * self._other[name][:, None])
        return total

    def _older_poor(self, of_same: OfBlock, of_sound: OfBlock) -> Array:
        """Return the likelihood of older revisions where the newest is poor."""
        total = np.ones((3, 1))
        for name, own in self.older.items():
            total = total * (
                OLDER_SAME * _product(own, of_same)
                + OLDER_SOUND * _product(own, of_sound)
                + OLDER_OTHER * self._other[name][:, None]
            )
        return total

    def _scatter(self) -> Array:
        def wide(block: Block) -> Array:
            return block.at_aim(EXTRA_WIDE)[:, None]

        total = _product(self.newest, wide) * _product(self.elsewhere, _sound)
        return (total * self._older_poor(wide, _sound))[:, 0]

    def _offset(self, kind: int) -> Array:
        def off(block: Block) -> Array:
            return block.at(self._spots, kind)

        total = _product(self.newest, off) * _product(self.elsewhere, _sound)
        return (total * self._older_poor(off, _sound)) @ self._weights

    def _steady(self, kind: int) -> Array:
        """Members gather elsewhere with every device; guests do not."""

        def off(block: Block) -> Array:
            if block.guest:
                return block.at_aim(kind)[:, None]
            return block.at(self._spots, kind)

        def off_elsewhere(block: Block) -> Array:
            return _sound(block) if block.guest else block.at(self._spots, USUAL)

        total = _product(self.elsewhere, off_elsewhere)
        for handling, own in _by_handling(self.newest).items():
            same = _product(own, off)
            # Another way of handling has the same fault, or not.
            total = total * ((same + _product(own, _sound)) / 2 if handling else same)
        return (total * self._older_sound(off_elsewhere)) @ self._weights

    def _offset_and_steady(self) -> Array:
        """Weigh an offset of the device and another of the use, on a thinner grid."""
        spots, weights = offsets(2)
        both = (spots[:, None, :] + spots[None, :, :]).reshape(-1, 2)
        many = len(spots)

        def spread(block: Block, *, device: bool) -> Array:
            if device and not block.guest:
                return block.at(both, USUAL).reshape(3, many, many)
            if device:
                return block.at(spots, USUAL)[:, :, None]
            return _sound(block)[:, :, None] if block.guest else block.at(spots, USUAL)[:, None, :]

        total = np.ones((3, 1, 1))
        for block in self.newest:
            total = total * spread(block, device=True)
        for block in self.elsewhere:
            total = total * spread(block, device=False)
        for name, own in self.older.items():
            same = sound = np.ones((3, 1, 1))
            for block in own:
                same = same * spread(block, device=True)
                sound = sound * spread(block, device=False)
            other = self._other[name][:, None, None]
            total = total * (OLDER_SAME * same + OLDER_SOUND * sound + OLDER_OTHER * other)
        total = np.broadcast_to(total, (3, many, many))
        return np.asarray(total @ weights @ weights)

    def _moving(self, weigh: Callable[[Sequence[Block], Telling], Array], *, members: bool
                ) -> Array:  # fmt: skip
        """Weigh what moves from trial to trial, all older revisions sound or all poor."""

        def whole(blocks: Sequence[Block]) -> Array:
            guests = [block for block in blocks if block.guest and members]
            rest = [block for block in blocks if not (block.guest and members)]
            return weigh(rest, self.telling) * _product(guests, _sound)[:, 0]

        if not self.older:
            return whole(self.blocks)
        older = (1 - OLDER_POOR) ** len(self.older)
        poor = np.prod(list(self._other.values()), axis=0)
        newest = whole([*self.newest, *self.elsewhere])
        return np.asarray(older * whole(self.blocks) + (1 - older) * poor * newest)

    def _load(self, *, offset: bool = False, scatter: bool = False) -> Array:
        def weigh(blocks: Sequence[Block], telling: Telling) -> Array:
            return likelihood_of_load(blocks, telling, offset=offset, scatter=scatter)

        return self._moving(weigh, members=False)

    def _some(self, causes: frozenset[Cause]) -> Array:
        weigh = partial(
            weigh_carriers,
            by_part=Cause.OWN_PART in causes,
            offset=Cause.DEVICE_OFFSET in causes,
            scatter=Cause.DEVICE_SCATTER in causes,
            shared=Cause.USE_ALL_STEADY in causes,
        )
        newest = [*self.newest, *self.elsewhere]
        if not self.older:
            return weigh(newest)
        sound = (1 - OLDER_POOR) ** len(self.older)
        if causes & {Cause.DEVICE_OFFSET, Cause.DEVICE_SCATTER}:
            sound = OLDER_SAME ** len(self.older)
        poor = np.prod(list(self._other.values()), axis=0)
        return np.asarray(sound * weigh(self.blocks) + (1 - sound) * poor * weigh(newest))


def _sound(block: Block) -> Array:
    return block.at_aim(USUAL)[:, None]


def _product(blocks: Sequence[Block], of_block: OfBlock) -> Array:
    total = np.ones((3, 1))
    for block in blocks:
        total = total * of_block(block)
    return total


def _by_handling(blocks: Sequence[Block]) -> dict[str, list[Block]]:
    grouped: dict[str, list[Block]] = {}
    for block in blocks:
        grouped.setdefault("" if block.guest else block.other_handling, []).append(block)
    return grouped
