"""Every permutation of old and new, as pairs from two lists: exact, for values of any fineness.

Comes in: `Layout`. Goes out: the same answers as `shift_table`. The strata are shared out between
two lists, the largest stratum cut in two where needed; every way of dealing is one entry of the
first list together with one of the second, so that a million ways take two lists of a thousand.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import accumulate

from journal.analysis.permutation.strata import Layout

#: (values picked of the cut stratum, j, sum) -> in how many ways.
Entries = dict[tuple[int, int, int], int]
#: The (j, sum) of one list, and in how many ways each can be had; None for once each.
Half = tuple[list[tuple[int, int]], list[int] | None]
#: Values of one stratum, each with 1 where it is new.
Marked = list[tuple[int, int]]

_START: Entries = {(0, 0, 0): 1}


class ShiftPairs:
    """The exact null distribution under every shift, never written out in full."""

    def __init__(self, layout: Layout, most: int) -> None:
        """Fill both lists; a list that would pass `most` entries stays away (`fits` is False)."""
        self.layout = layout
        self.total = layout.total
        self.halves: list[tuple[Half, Half]] = []
        self.fits = self._fill(most)

    def _fill(self, most: int) -> bool:
        first, second, cut_count = _share_out(self.layout, most)
        if first is None or second is None:
            return False
        for picked in {picked for picked, _, _ in first}:
            self.halves.append((_half_of(first, picked), _half_of(second, cut_count - picked)))
        return True

    @property
    def size(self) -> int:
        """Return how many entries the two lists have together."""
        return sum(len(first[0]) + len(second[0]) for first, second in self.halves)

    def share_beyond(self, shift: Fraction) -> Fraction:
        """Return the share of ways at least as far out as the real one, for a shift in units."""
        layout, top, bottom = self.layout, shift.numerator, shift.denominator
        slope = layout.common * layout.new_count - layout.centre_j
        seen = abs((layout.common * layout.observed - layout.centre) * bottom - slope * top)
        by_sum, by_j = layout.common * bottom, layout.common * top
        centre = layout.centre * bottom - layout.centre_j * top
        return self._share(by_sum, by_j, centre, seen)

    def rough_share_beyond(self, shift: Fraction) -> Fraction:
        """Return the same in floating point: ties closer than 1e-12 of the whole are one."""
        layout, delta = self.layout, float(shift)
        slope = layout.new_count - layout.centre_j / layout.common
        seen = abs(float(layout.difference) - delta) * slope
        centre = layout.centre / layout.common - layout.centre_j / layout.common * delta
        return self._share(1.0, delta, centre, seen - 1e-12 * (seen + layout.reach))

    def _share(self, by_sum: float, by_j: float, centre: float, seen: float) -> Fraction:
        if seen <= 0:
            return Fraction(1)
        beyond = 0
        for first, second in self.halves:
            left = _slid(first, by_sum, by_j, centre)
            right = _slid(second, by_sum, by_j, 0)
            beyond += _count_beyond(left, right, seen)
        return Fraction(beyond, self.total)


def _share_out(layout: Layout, most: int) -> tuple[Entries | None, Entries | None, int]:
    """Fill two lists of about the same length; also the number to pick of the cut stratum."""
    marked: list[tuple[Marked, int]] = sorted(
        (
            (sorted([(value, 0) for value in old] + [(value, 1) for value in new]), len(new))
            for old, new in layout.strata
        ),
        # Then by their values, so that lists are as long in whatever order the values were had.
        key=lambda stratum: (math.comb(len(stratum[0]), stratum[1]), stratum),
    )
    sizes = [math.comb(len(values), count) for values, count in marked]
    cut_count = 0
    lists: list[Entries | None] = [dict(_START), dict(_START)]
    half = 2 ** (-(-len(marked[-1][0]) // 2))
    if _longer(sizes[:-1], half) < _longer(sizes, 1):
        largest, cut_count = marked.pop()
        # Every second value: both halves then have old and new in them.
        lists = [
            _picked_from(largest[::2], cut_count, most),
            _picked_from(largest[1::2], cut_count, most),
        ]
    for stratum, count in reversed(marked):
        own = _picked_from(stratum, count, 8 * most)
        shorter = 0 if _length(lists[0]) <= _length(lists[1]) else 1
        lists[shorter] = _joined(lists[shorter], own, count, most)
    return lists[0], lists[1], cut_count


def _longer(sizes: Sequence[int], start: int) -> int:
    """Return the length of the longer list when the shorter one always gets the next stratum."""
    first = second = start
    for size in reversed(sizes):
        first, second = sorted((first * size, second))
    return max(first, second)


def _length(entries: Entries | None) -> int:
    return 0 if entries is None else len(entries)


def _picked_from(values: Iterable[tuple[int, int]], count: int, most: int) -> Entries | None:
    """Return every way to pick up to `count` of the values; None for more than `most` entries."""
    entries = dict(_START)
    for value, is_new in values:
        for (picked, j, total), ways in list(entries.items()):
            if picked < count:
                key = (picked + 1, j + is_new, total + value)
                entries[key] = entries.get(key, 0) + ways
        if len(entries) > most:
            return None
    return entries


def _joined(entries: Entries | None, own: Entries | None, count: int, most: int) -> Entries | None:
    """Return the list joined with a whole stratum, of which exactly `count` are picked."""
    if entries is None or own is None:
        return None
    full = [(j, total, ways) for (picked, j, total), ways in own.items() if picked == count]
    if len(full) * len(entries) > 4 * most:
        return None
    joined: Entries = {}
    for (picked, j, total), ways in entries.items():
        for own_j, own_total, own_ways in full:
            key = (picked, j + own_j, total + own_total)
            joined[key] = joined.get(key, 0) + ways * own_ways
    return joined if len(joined) <= most else None


def _half_of(entries: Entries, picked: int) -> Half:
    """Return the entries with so many picked by j and sum, so that sliding them leaves runs."""
    rows = sorted((j, total, ways) for (own, j, total), ways in entries.items() if own == picked)
    ways = [ways for _, _, ways in rows]
    once = all(count == 1 for count in ways)
    return [(j, total) for j, total, _ in rows], None if once else ways


def _slid(
    half: Half, by_sum: float, by_j: float, offset: float
) -> tuple[Sequence[float], Sequence[int]]:
    """Return the statistics of a list in rising order, with the cumulated numbers of ways."""
    entries, ways = half
    values = [by_sum * total - by_j * j - offset for j, total in entries]
    if ways is None:
        values.sort()
        return values, range(len(values) + 1)
    pairs = sorted(zip(values, ways, strict=True))
    return [value for value, _ in pairs], list(accumulate((count for _, count in pairs), initial=0))


def _count_beyond(
    left: tuple[Sequence[float], Sequence[int]],
    right: tuple[Sequence[float], Sequence[int]],
    seen: float,
) -> int:
    """Count the pairs whose statistics add up to at most -seen, or to at least seen."""
    values, cumulated = left
    others, other_cumulated = right
    if not values or not others:
        return 0
    below = above = len(others)
    beyond = 0
    all_others = other_cumulated[-1]
    for place, value in enumerate(values):
        low, high = -seen - value, seen - value
        while below and others[below - 1] > low:
            below -= 1
        while above and others[above - 1] >= high:
            above -= 1
        ways = cumulated[place + 1] - cumulated[place]
        beyond += ways * (other_cumulated[below] + all_others - other_cumulated[above])
    return beyond
