"""In how many orders a set of values has how many pairs the wrong way round.

Comes in: how often each value occurs, for each stratum. Goes out: the exact null distribution of
Kendall's S. With ties the counts are the coefficients of a q-multinomial (MacMahon 1913), so ties
need no approximation.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from journal.analysis.permutation.packed_counts import slot_bytes, unpack


def inversion_ways(repeats: Sequence[int]) -> list[int]:
    """Return the number of orders with 0, 1, 2, ... inversions of a list with ties.

    `repeats` holds how often each value occurs.
    """
    n = sum(repeats)
    ways = [1]
    for size in range(1, n + 1):
        ways = _times(ways, size)
    for repeat in repeats:
        for size in range(2, repeat + 1):
            ways = _divided(ways, size)
    return ways


def _times(ways: Sequence[int], size: int) -> list[int]:
    """Return the product with 1 + q + ... + q^(size - 1)."""
    length = len(ways) + size - 1
    product = [0] * length
    running = 0
    for place in range(length):
        if place < len(ways):
            running += ways[place]
        if place >= size:
            running -= ways[place - size]
        product[place] = running
    return product


def _divided(ways: Sequence[int], size: int) -> list[int]:
    """Return the quotient by 1 + q + ... + q^(size - 1), which divides without rest."""
    quotient: list[int] = []
    #: The sum of the last size - 1 entries of the quotient.
    running = 0
    for place in range(len(ways) - size + 1):
        quotient.append(ways[place] - running)
        running += quotient[-1]
        if place >= size - 1:
            running -= quotient[place - size + 1]
    return quotient


def joined_ways(strata: Sequence[Sequence[int]]) -> list[int]:
    """Return the distribution of the sum of independent counts."""
    total = math.prod(sum(ways) for ways in strata)
    size = slot_bytes(total)
    packed, slots = 1, 1
    for ways in strata:
        raw = b"".join(count.to_bytes(size, "little") for count in ways)
        packed *= int.from_bytes(raw, "little")
        slots += len(ways) - 1
    return list(unpack(packed, slots, size))
