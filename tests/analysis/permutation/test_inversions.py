"""Orders with so many pairs the wrong way round."""

import math
from collections import Counter
from itertools import permutations, product

from hypothesis import given, settings
from hypothesis import strategies as st

from journal.analysis.permutation.inversions import inversion_ways, joined_ways


@settings(deadline=None)
@given(st.lists(st.integers(1, 3), min_size=1, max_size=6))
def test_counts_are_those_of_writing_out_every_order(values: list[int]) -> None:
    """Ties included: every order of the values, each distinct one once."""
    seen = Counter(
        sum(a > b for place, a in enumerate(order) for b in order[place + 1 :])
        for order in set(permutations(values))
    )
    ways = inversion_ways(list(Counter(values).values()))
    assert [seen[count] for count in range(len(ways))] == ways


def test_independent_counts_are_joined() -> None:
    """The sum of two counts, as by writing out both."""
    first, second = inversion_ways([1, 1, 1]), inversion_ways([2, 1])
    seen: Counter[int] = Counter()
    for (a, ways_a), (b, ways_b) in product(enumerate(first), enumerate(second)):
        seen[a + b] += ways_a * ways_b
    assert [seen[count] for count in range(len(seen))] == joined_ways([first, second])


def test_all_orders_are_counted() -> None:
    """The counts of thirty different values add up to 30!."""
    assert math.factorial(30) == sum(inversion_ways([1] * 30))
