"""Permutation test of old against new within students, exact where that is cheap.

Comes in: the old and new values of each student. Goes out: the weighted difference of means, its
95 % interval, the two-sided p-value (sum of the new values, as far from its null mean or farther),
and the smallest p-value these values could reach.

The interval holds the shifts that the same test does not rule out. With every step away from the
difference the real deal moves out at least as fast as any other, so the p-value only falls, and
halving finds each end.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from typing import Protocol

from journal.analysis.permutation.packed_counts import slot_bytes
from journal.analysis.permutation.shift_normal import ShiftNormal
from journal.analysis.permutation.shift_pairs import ShiftPairs
from journal.analysis.permutation.shift_rows import list_deals
from journal.analysis.permutation.shift_shuffles import ShiftShuffles
from journal.analysis.permutation.shift_table import ShiftTable, plain_share_beyond, table_cells
from journal.analysis.permutation.strata import Layout, Stratum, lay_out, smallest_share

LEVEL = Fraction(5, 100)
# A page sets up to a few dozen pairs beside each other while other tablets wait for the
# interpreter, so no way to count may take more than some milliseconds; beyond, shuffles stand for
# it. On two cores at about 3 GHz each limit below is reached after 5 to 10 ms.
#: Few enough ways to write them out one by one.
MOST_LISTED = 5_000
#: Largest table for every shift, in cells of 8 bytes: of one stratum, and of several, whose tables
#: have to be multiplied.
MOST_SHIFT_CELLS = 16_000
MOST_JOINED_CELLS = 8_000
#: The p-value alone: bytes of the joined distribution, and bytes to be added up for it.
MOST_PLAIN_ROW = 16_000
MOST_PLAIN_BYTES = 12_000_000
#: Longest list of half deals, for every shift and for the p-value alone.
MOST_SHIFT_ENTRIES = 300
MOST_PLAIN_ENTRIES = 1_500
#: Shuffling is worth its time up to this many values; beyond, the sum is as good as normal.
MOST_SHUFFLED = 300
#: Two ends closer than this part of the spread of the values are one.
RELATIVE_STEP = Fraction(1, 2**32)


class Method(StrEnum):
    """How the null distribution was had."""

    EXACT = "exact"
    #: 9,999 seeded shuffles.
    SHUFFLES = "shuffles"
    #: The normal distribution, for very many trials.
    NORMAL = "normal"


class ShiftNull(Protocol):
    """A null distribution that answers for every shift."""

    def share_beyond(self, shift: Fraction) -> Fraction:
        """Return the share of deals at least as far out as the real one."""
        ...


Share = Callable[[Fraction], Fraction]


@dataclass(frozen=True, slots=True, kw_only=True)
class PermutationTest:
    """What the deals say, in the unit of the outcome."""

    difference: float
    interval: tuple[float, float] | None
    p_value: float
    smallest_p: float
    method: Method
    interval_method: Method


def permute(strata: Sequence[Stratum]) -> PermutationTest | None:
    """Test old against new within strata, each the values of one student.

    Returns the difference of means within students with its 95 % interval, in the unit of the
    values, and the two-sided p-value; the interval is None where no 95 % interval exists, as at 3
    against 3. None where no stratum has both old and new values. Values must be finite. Fisher, The
    Design of Experiments, 1935 (from memory).
    """
    layout = lay_out(strata)
    turned = lay_out([Stratum(stratum.new, stratum.old) for stratum in strata])
    if layout is None or turned is None:
        return None
    # The same deals seen from the other side, whose table may be the smaller one.
    if table_cells(turned) < table_cells(layout):
        return _turned(_test(turned))
    return _test(layout)


def _turned(test: PermutationTest) -> PermutationTest:
    interval = test.interval
    return replace(
        test,
        difference=0.0 - test.difference,
        interval=None if interval is None else (0.0 - interval[1], 0.0 - interval[0]),
    )


def _test(layout: Layout) -> PermutationTest:
    null, method = choose_null(layout)
    p_value, p_method = null.share_beyond(Fraction(0)), method
    if method is not Method.EXACT and (exact := _plain_exact(layout)) is not None:
        p_value, p_method = exact, Method.EXACT
    share = null.rough_share_beyond if isinstance(null, ShiftPairs) else null.share_beyond
    interval = _interval(share, layout)
    if interval is not None and method is not p_method:
        interval = _in_line(interval, ruled_out=p_value <= LEVEL)
    unit = layout.unit
    return PermutationTest(
        difference=float(layout.difference * unit),
        interval=None
        if interval is None
        else (float(interval[0] * unit), float(interval[1] * unit)),
        p_value=float(p_value),
        smallest_p=float(smallest_share(layout)),
        method=p_method,
        interval_method=method,
    )


def choose_null(layout: Layout) -> tuple[ShiftNull, Method]:
    """Return the cheapest exact null distribution, else one that stands for it."""
    cells = table_cells(layout) * slot_bytes(layout.total) // 8
    # A deal written out costs about as much as two cells of a table.
    if layout.total <= MOST_LISTED and 2 * layout.total <= cells:
        return list_deals(layout), Method.EXACT
    if cells > MOST_LISTED and layout.total <= MOST_SHIFT_ENTRIES**2:
        pairs = ShiftPairs(layout, MOST_SHIFT_ENTRIES)
        if pairs.fits and pairs.size * 50 < cells:
            return pairs, Method.EXACT
    if cells <= (MOST_SHIFT_CELLS if len(layout.strata) == 1 else MOST_JOINED_CELLS):
        return ShiftTable(layout), Method.EXACT
    if _count(layout) <= MOST_SHUFFLED:
        return ShiftShuffles(layout), Method.SHUFFLES
    return ShiftNormal(layout), Method.NORMAL


def _count(layout: Layout) -> int:
    return sum(len(old) + len(new) for old, new in layout.strata)


def _plain_exact(layout: Layout) -> Fraction | None:
    """Return the exact p-value alone, where the tables for every shift would be too large."""
    fewer = sum(min(len(old), len(new)) for old, new in layout.strata)
    row = (layout.reach + 1) * slot_bytes(layout.total)
    if row <= MOST_PLAIN_ROW and (fewer + 1) * row * _count(layout) <= MOST_PLAIN_BYTES:
        return plain_share_beyond(layout)
    if layout.total <= MOST_PLAIN_ENTRIES**2:
        pairs = ShiftPairs(layout, MOST_PLAIN_ENTRIES)
        if pairs.fits:
            return pairs.share_beyond(Fraction(0))
    return None


def _in_line(interval: tuple[Fraction, Fraction], *, ruled_out: bool) -> tuple[Fraction, Fraction]:
    """Return a sampled interval that does not contradict the exact p-value of no shift."""
    low, high = interval
    if not ruled_out:
        return min(low, Fraction(0)), max(high, Fraction(0))
    if low < 0 < high:
        return (Fraction(0), high) if high > -low else (low, Fraction(0))
    return interval


def _interval(share: Share, layout: Layout) -> tuple[Fraction, Fraction] | None:
    """Return the shifts not ruled out at the level, in units; None where there is no end."""
    upper = _end(share, layout, 1)
    lower = None if upper is None else _end(share, layout, -1)
    return None if lower is None or upper is None else (lower, upper)


def _end(share: Share, layout: Layout, sign: int) -> Fraction | None:
    """Return the last shift on one side whose p-value is above the level."""
    spread = max(layout.spread, 1)
    step = max(Fraction(1, 2 * layout.finest**2), spread * RELATIVE_STEP)
    # All shifts tried are whole numbers of 1 / grid, so that their arithmetic stays short.
    grid = 1 << (step.denominator // step.numerator).bit_length()

    def ruled_out(place: int) -> bool:
        return share(Fraction(place, grid)) <= LEVEL

    inside = round(layout.difference * grid)
    reach = max(spread * grid // 4, 1)
    farthest = 8 * (spread + 1) * layout.common * layout.new_count * grid
    while not ruled_out(outside := inside + sign * reach):
        if reach >= farthest:
            return None
        # Nothing new happens between a few spreads of the values and the farthest shift.
        reach = reach * 2 if reach < 4 * spread * grid else farthest
    inside -= sign
    while abs(outside - inside) > 1:
        middle = (inside + outside) // 2
        if ruled_out(middle):
            outside = middle
        else:
            inside = middle
    ends = sorted((Fraction(inside, grid), Fraction(outside, grid)))
    return _simplest_between(ends[0], ends[1])


def _simplest_between(low: Fraction, high: Fraction) -> Fraction:
    """Return the fraction with the smallest denominator in a closed range.

    A p-value can only change at shifts with small denominators, so this is the very shift.
    """
    whole = -(-low.numerator // low.denominator)
    if whole <= high:
        return Fraction(max(whole, min(0, high.numerator // high.denominator)))
    floor = low.numerator // low.denominator
    return floor + 1 / _simplest_between(1 / (high - floor), 1 / (low - floor))
