"""Every permutation of old and new, counted in one table: exact, for values of few digits.

Comes in: `Layout`. Goes out: for any shift, the share of ways whose statistic lies as far from its
mean as the real one or farther. The table has one row for each number j of truly new values picked
and one cell for each sum; the same table answers for every shift, because a shift only slides the
rows.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from journal.analysis.permutation.packed_counts import cumulate, slot_bytes, subset_ways, unpack
from journal.analysis.permutation.strata import Layout


def table_cells(layout: Layout) -> int:
    """Return how many cells the table would have."""
    return (layout.new_count + 1) * (layout.reach + 1)


class ShiftTable:
    """The exact null distribution under every shift."""

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        self.total = layout.total
        self.stride = layout.reach + 1
        size = slot_bytes(self.total, table_cells(layout))
        self.first, table = _packed_table(layout, self.stride, 8 * size)
        slots = (layout.new_count - self.first + 1) * self.stride
        #: Running totals over the whole table, row after row, with a zero in front.
        self.totals = (0, *unpack(cumulate(table, slots, 8 * size), slots, size))

    def share_beyond(self, shift: Fraction) -> Fraction:
        """Return the share of ways at least as far out as the real one, for a shift in units."""
        layout, top, bottom = self.layout, shift.numerator, shift.denominator
        scale = layout.common * bottom
        slope = layout.common * layout.new_count - layout.centre_j
        seen = abs((layout.common * layout.observed - layout.centre) * bottom - slope * top)
        if seen == 0:
            return Fraction(1)
        beyond, stride, totals = 0, self.stride, self.totals
        start = 0
        middle = layout.centre * bottom + (layout.common * self.first - layout.centre_j) * top
        for _ in range(self.first, layout.new_count + 1):
            low = (middle - seen) // scale + 1
            if low > 0:
                beyond += totals[start + min(low, stride)] - totals[start]
            high = -((-middle - seen) // scale)
            if high < stride:
                beyond += totals[start + stride] - totals[start + max(high, 0)]
            start += stride
            middle += layout.common * top
        return Fraction(beyond, self.total)


def _packed_table(layout: Layout, stride: int, bits: int) -> tuple[int, int]:
    """Return the first j that can happen, and the rows from there on packed one after the other."""
    blocks: list[tuple[int, int]] = []
    for old, new in layout.strata:
        first, packed_rows = _stratum_rows(old, new, bits)
        block = 0
        for packed in reversed(packed_rows):
            block = (block << (stride * bits)) + packed
        blocks.append((first, block))
    while len(blocks) > 1:
        # Neighbours first: products of equal length are the cheapest.
        joined = [
            (a[0] + b[0], a[1] * b[1]) for a, b in zip(blocks[::2], blocks[1::2], strict=False)
        ]
        blocks = joined + ([blocks[-1]] if len(blocks) % 2 else [])
    return blocks[0]


def _stratum_rows(old: Sequence[int], new: Sequence[int], bits: int) -> tuple[int, list[int]]:
    """Return the first possible j of one stratum and the packed counts from there upwards."""
    count = len(new)
    first = max(0, count - len(old))
    new_ways = subset_ways(new, count, bits)
    old_ways = subset_ways(old, min(count, len(old)), bits)
    return first, [new_ways[j] * old_ways[count - j] for j in range(first, count + 1)]


def plain_share_beyond(layout: Layout) -> Fraction:
    """Return the exact p-value without any shift; needs far fewer cells than the whole table."""
    total, reach = layout.total, layout.reach
    size = slot_bytes(total, reach)
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
    flipped = b"".join(raw[start : start + size] for start in range(highest * size, -size, -size))
    return int.from_bytes(flipped, "little")
