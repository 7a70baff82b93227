"""Every permutation of old and new within students, listed one by one: for few of them.

Comes in: `Layout`. Goes out: the same answers as `shift_table`.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import combinations

from journal.analysis.permutation.strata import Layout


class ShiftRows:
    """A null distribution as sorted sums for each number j of truly new values picked."""

    def __init__(self, layout: Layout, deals: Iterable[tuple[int, int]]) -> None:
        """Sort the deals (j, sum)."""
        self.layout = layout
        rows: dict[int, list[int]] = {}
        for j, total in deals:
            rows.setdefault(j, []).append(total)
        self.rows: list[tuple[int, Sequence[int]]] = [
            (j, sorted(sums)) for j, sums in sorted(rows.items())
        ]
        self.total = sum(len(sums) for _, sums in self.rows)

    def share_beyond(self, shift: Fraction) -> Fraction:
        """Return the share of deals at least as far out as the real one, for a shift in units."""
        layout, top, bottom = self.layout, shift.numerator, shift.denominator
        scale = layout.common * bottom
        slope = layout.common * layout.new_count - layout.centre_j
        seen = abs((layout.common * layout.observed - layout.centre) * bottom - slope * top)
        beyond = 0
        for j, sums in self.rows:
            middle = layout.centre * bottom + (layout.common * j - layout.centre_j) * top
            low = (middle - seen) // scale
            high = max(-((-middle - seen) // scale), low + 1)
            beyond += bisect_right(sums, low) + len(sums) - bisect_left(sums, high)
        return Fraction(beyond, self.total)


def list_deals(layout: Layout) -> ShiftRows:
    """Write out every deal."""
    deals = [(0, 0)]
    for old, new in layout.strata:
        marked = [(value, 0) for value in old] + [(value, 1) for value in new]
        own = [
            (sum(is_new for _, is_new in picked), sum(value for value, _ in picked))
            for picked in combinations(marked, len(new))
        ]
        deals = [(j + own_j, total + own_total) for j, total in deals for own_j, own_total in own]
    return ShiftRows(layout, deals)
