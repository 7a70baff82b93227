"""Distributions packed in one big integer, so that adding and convolving cost next to nothing.

Comes in: whole numbers >= 0. Goes out: for each possible sum, in how many ways it can be had.
A distribution over sums 0, 1, 2, ... is one integer with a fixed number of bytes a sum: adding a
value is a shift, joining two independent distributions is a product.
"""

from __future__ import annotations

import struct
from collections.abc import Sequence

_FORMATS = {2: "H", 4: "I", 8: "Q"}
MANY_SLOTS = 50_000


def slot_bytes(total: int, slots: int = 0) -> int:
    """Return how many bytes hold every count up to `total`, for a distribution of so many slots.

    A machine word is read fastest; where there are very many slots a tight fit saves more.
    """
    needed = total.bit_length() // 8 + 1
    word = next((size for size in _FORMATS if needed <= size), needed)
    return needed if slots > MANY_SLOTS and word == max(_FORMATS) else word


def subset_ways(numbers: Sequence[int], most: int, bits: int) -> list[int]:
    """Return, for each count of picked numbers 0..most, the packed distribution of their sum.

    `numbers` are at least 0; each slot of the distribution has `bits` bits.
    """
    ways = [1] + [0] * most
    for seen, number in enumerate(numbers, start=1):
        shift = number * bits
        for count in range(min(seen, most), 0, -1):
            ways[count] += ways[count - 1] << shift
    return ways


def unpack(packed: int, slots: int, size: int) -> Sequence[int]:
    """Return the counts of a packed distribution with `slots` sums of `size` bytes each."""
    raw = packed.to_bytes(slots * size, "little")
    if size in _FORMATS:
        return struct.unpack(f"<{slots}{_FORMATS[size]}", raw)
    return [
        int.from_bytes(raw[start : start + size], "little") for start in range(0, len(raw), size)
    ]


def cumulate(packed: int, slots: int, bits: int) -> int:
    """Return the running totals of a `packed` distribution: each slot adds all slots before it.

    The distribution has `slots` slots of `bits` bits.
    """
    reach = 1
    while reach < slots:
        packed += packed << (reach * bits)
        reach *= 2
    return packed & ((1 << (slots * bits)) - 1)
