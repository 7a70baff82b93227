"""Counts packed in big integers."""

from collections import Counter
from itertools import accumulate, combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.analysis.permutation.packed_counts import cumulate, slot_bytes, subset_ways, unpack


@given(st.lists(st.integers(0, 9), min_size=1, max_size=8), st.integers(0, 8))
def test_subset_sums_are_counted_as_by_writing_them_out(numbers: list[int], count: int) -> None:
    """Each slot holds in how many ways its sum can be picked."""
    count = min(count, len(numbers))
    seen = Counter(sum(picked) for picked in combinations(numbers, count))
    slots = sum(numbers) + 1
    packed = subset_ways(numbers, count, 32)[count]
    assert [seen[total] for total in range(slots)] == list(unpack(packed, slots, 4))


@pytest.mark.parametrize("total", [1, 2**7, 2**15 - 1, 2**31, 2**40, 2**63, 2**64, 10**30])
def test_slots_hold_the_greatest_count(total: int) -> None:
    """Whatever the number of slots, the greatest count comes back."""
    for slots in (0, 1_000_000):
        size = slot_bytes(total, slots)
        assert [total, 0, total] == list(unpack(total + (total << (16 * size)), 3, size))


@given(st.lists(st.integers(0, 1_000), min_size=1, max_size=20))
def test_running_totals_are_packed_too(counts: list[int]) -> None:
    """Cumulating in packed form gives what itertools.accumulate gives."""
    packed = sum(count << (32 * place) for place, count in enumerate(counts))
    assert list(accumulate(counts)) == list(
        unpack(cumulate(packed, len(counts), 32), len(counts), 4)
    )
