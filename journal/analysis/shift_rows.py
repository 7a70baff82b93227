"""Ways of dealing out old and new, written out one by one: all of them, or a seeded sample.

Comes in: `Layout`. Goes out: the same answers as `shift_table`. All ways where they are few; where
they are too many to count, 9,999 shuffles stand for them, the same ones for the same data.
"""

from __future__ import annotations

import random
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import combinations

from journal.analysis.strata import Layout

SHUFFLES = 9_999
#: Any number does; this one is ours for good, so that a finding never changes by itself.
SEED = 20_231


class ShiftRows:
    """A null distribution as sorted sums for each number j of truly new values picked."""

    def __init__(self, layout: Layout, deals: Iterable[tuple[int, int]], extra: int) -> None:
        """Sort the deals (j, sum); `extra` deals count as beyond whatever the shift."""
        self.layout = layout
        rows: dict[int, list[int]] = {}
        for j, total in deals:
            rows.setdefault(j, []).append(total)
        self.rows: list[tuple[int, Sequence[int]]] = [
            (j, sorted(sums)) for j, sums in sorted(rows.items())
        ]
        self.extra = extra
        self.total = extra + sum(len(sums) for _, sums in self.rows)

    def share_beyond(self, shift: Fraction) -> Fraction:
        """Return the share of deals at least as far out as the real one, for a shift in units."""
        layout, top, bottom = self.layout, shift.numerator, shift.denominator
        scale = layout.common * bottom
        slope = layout.common * layout.new_count - layout.centre_j
        seen = abs((layout.common * layout.observed - layout.centre) * bottom - slope * top)
        beyond = self.extra
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
    return ShiftRows(layout, deals, 0)


def shuffle_deals(layout: Layout) -> ShiftRows:
    """Draw a sample of deals; the real one counts as one more."""
    draw = random.Random(SEED)  # noqa: S311  (a sample, not a secret)
    pools = [
        ([(value, 0) for value in old] + [(value, 1) for value in new], len(new))
        for old, new in layout.strata
    ]
    deals = []
    for _ in range(SHUFFLES):
        picked = [one for pool, count in pools for one in draw.sample(pool, count)]
        deals.append((sum(is_new for _, is_new in picked), sum(value for value, _ in picked)))
    return ShiftRows(layout, deals, 1)
