"""Every way of dealing out old and new, counted in one table: exact, for values of few digits.

Comes in: `Layout`. Goes out: for any shift, the share of ways whose statistic lies as far from its
mean as the real one or farther. The table has one row for each number j of truly new values picked
and one cell for each sum; the same table answers for every shift, because a shift only slides the
rows.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import accumulate

from journal.analysis.strata import Layout
from journal.analysis.ways import slot_bytes, subset_ways, unpack


def table_cells(layout: Layout) -> int:
    """Return how many cells the table would have."""
    return (layout.new_count + 1) * (layout.reach + 1)


class ShiftTable:
    """The exact null distribution under every shift."""

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        self.total = layout.total
        self.reach = layout.reach
        self.rows = _rows(layout, self.reach, slot_bytes(self.total))

    def share_beyond(self, shift: Fraction) -> Fraction:
        """Return the share of ways at least as far out as the real one, for a shift in units."""
        layout, top, bottom = self.layout, shift.numerator, shift.denominator
        scale = layout.common * bottom
        slope = layout.common * layout.new_count - layout.centre_j
        seen = abs((layout.common * layout.observed - layout.centre) * bottom - slope * top)
        if seen == 0:
            return Fraction(1)
        beyond, reach = 0, self.reach
        for j, cumulated in self.rows:
            middle = layout.centre * bottom + (layout.common * j - layout.centre_j) * top
            low = (middle - seen) // scale
            if low >= 0:
                beyond += cumulated[min(low, reach)]
            high = -((-middle - seen) // scale) - 1
            if high < reach:
                beyond += cumulated[-1] - (cumulated[high] if high >= 0 else 0)
        return Fraction(beyond, self.total)


def _rows(layout: Layout, reach: int, size: int) -> list[tuple[int, Sequence[int]]]:
    """Return (j, cumulated counts by sum) for each j that can happen."""
    bits = 8 * size
    stride = (reach + 1) * bits
    if len(layout.strata) == 1:
        first, packed_rows = _stratum_rows(*layout.strata[0], bits)
        return [
            (first + row, list(accumulate(unpack(packed, reach + 1, size))))
            for row, packed in enumerate(packed_rows)
        ]
    blocks: list[tuple[int, int]] = []
    for old, new in layout.strata:
        first, packed_rows = _stratum_rows(old, new, bits)
        block = 0
        for packed in reversed(packed_rows):
            block = (block << stride) + packed
        blocks.append((first, block))
    while len(blocks) > 1:
        # Neighbours first: products of equal length are the cheapest.
        joined = [
            (a[0] + b[0], a[1] * b[1])
            for a, b in zip(blocks[::2], blocks[1::2], strict=False)
        ]
        blocks = joined + ([blocks[-1]] if len(blocks) % 2 else [])
    first, block = blocks[0]
    counts = unpack(block, (layout.new_count - first + 1) * (reach + 1), size)
    return [
        (j, list(accumulate(counts[(j - first) * (reach + 1) : (j - first + 1) * (reach + 1)])))
        for j in range(first, layout.new_count + 1)
    ]


def _stratum_rows(
    old: Sequence[int], new: Sequence[int], bits: int
) -> tuple[int, list[int]]:
    """Return the first possible j of one stratum and the packed counts from there upwards."""
    count = len(new)
    first = max(0, count - len(old))
    new_ways = subset_ways(new, count, bits)
    old_ways = subset_ways(old, min(count, len(old)), bits)
    return first, [new_ways[j] * old_ways[count - j] for j in range(first, count + 1)]


def plain_share_beyond(layout: Layout) -> Fraction:
    """Return the exact p-value without any shift; needs far fewer cells than the whole table."""
    total, reach = layout.total, layout.reach
    size = slot_bytes(total)
    packed = 1
    for old, new in layout.strata:
        fewer = min(len(old), len(new))
        ways = subset_ways((*old, *new), fewer, 8 * size)[fewer]
        if fewer == len(new):
            packed *= ways
        else:
            # Picking the rest instead: the same counts, read from the other end.
            packed *= _mirrored(ways, sum(old) + sum(new), size)
    counts = unpack(packed, reach + 1, size)
    seen = abs(layout.common * layout.observed - layout.centre)
    low = (layout.centre - seen) // layout.common
    high = -((-layout.centre - seen) // layout.common)
    if seen == 0:
        return Fraction(1)
    beyond = sum(counts[: low + 1] if low >= 0 else ()) + sum(counts[max(high, 0) :])
    return Fraction(beyond, total)


def _mirrored(ways: int, highest: int, size: int) -> int:
    """Return the packed distribution of `highest` minus the sum."""
    raw = ways.to_bytes((highest + 1) * size, "little")
    flipped = b"".join(
        raw[start : start + size] for start in range(highest * size, -size, -size)
    )
    return int.from_bytes(flipped, "little")
