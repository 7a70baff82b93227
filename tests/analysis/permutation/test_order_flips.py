"""Swap tests that lost pairs: whole pairs count, and each order counts one half."""

import random
from collections.abc import Sequence
from functools import partial
from itertools import product

import pytest
from scipy.stats import binom

from journal.analysis.permutation.order_flips import flip_within_orders
from journal.analysis.permutation.permute import Method, permute
from journal.analysis.permutation.strata import Stratum
from journal.analysis.records import TrialRecord
from journal.analysis.swap_comparison import find_more_pairs, find_swap
from journal.analysis.verdicts import Verdict
from tests.analysis.test_swap_comparison import RISES
from tests.analysis.trial_records import turns

Sides = tuple[list[TrialRecord], list[TrialRecord]]


def _parted(records: Sequence[TrialRecord]) -> Sides:
    return (
        [record for record in records if record.revision == "A"],
        [record for record in records if record.revision == "B"],
    )


def test_children_of_equal_parity_who_leave_do_not_undo_the_test() -> None:
    """Both began with the old one and left after a whole pair; two others finished.

    The new one adds 5, practice adds 1 from each trial to the next: the device alone is found.
    """
    records = []
    for student, pattern in (("1", "AB"), ("2", "AB"), ("3", "BAABBAAB"), ("4", "ABBAABBA")):
        values = [10.0 + place + 5 * (letter == "B") for place, letter in enumerate(pattern)]
        records += turns(pattern, values, student=student)
    found = find_swap(*_parted(records))
    assert found.in_turns
    assert found.by_order
    assert (10, 0) == (found.pairs, found.lost_pairs)
    assert pytest.approx(5.0) == found.difference
    assert Verdict.MORE is found.verdict
    assert found.interval is not None
    assert found.interval[0] <= 5.0 <= found.interval[1]


def test_misfires_of_one_order_do_not_let_practice_in() -> None:
    """Two pairs that began with new are lost: the mean of all others would hold practice."""
    values = [10.0, 13, 16, 19, 22, 25, 28, 31, 34, 37, 40, 43]
    pattern = "ABBAABBAABBA"
    told: list[float | None] = list(values)
    told[2] = told[6] = None
    found = find_swap(*_parted(turns(pattern, told)))
    assert (4, 2) == (found.pairs, found.lost_pairs)
    # Three pairs gain 3 by practice, one loses 3: within orders nothing is left of it.
    assert pytest.approx(0.0) == found.difference
    assert not found.verdict.clear


def test_one_order_alone_tells_nothing() -> None:
    """Misfires left only pairs that began with the old one."""
    told: list[float | None] = [1, 5, None, 2, 1, 6, 7, None]
    found = find_swap(*_parted(turns("ABBAABBA", told)))
    assert not found.in_turns
    assert found.p_value is None


def _share_beyond(
    pairs: Sequence[tuple[float, float]], weights: Sequence[float], shift: float
) -> float:
    parts = [w * (new - old - shift) for w, (old, new) in zip(weights, pairs, strict=True)]
    sums = [
        sum(sign * part for sign, part in zip(signs, parts, strict=True))
        for signs in product((1, -1), repeat=len(parts))
    ]
    return sum(abs(one) >= abs(sum(parts)) - 1e-9 for one in sums) / len(sums)


def test_figures_are_those_of_writing_out_every_flip() -> None:
    """Both by hand: every way to flip the signs of weighted differences."""
    draw = random.Random(12)
    for _ in range(20):
        count = draw.randint(4, 9)
        orders = [True, True, False] + [draw.random() < 0.8 for _ in range(count - 3)]
        pairs = [(0.0, float(draw.randint(-4, 9))) for _ in range(count)]
        first = sum(orders)
        weights = [0.5 / (first if order else count - first) for order in orders]
        share = partial(_share_beyond, pairs, weights)
        found = flip_within_orders(pairs, orders)
        assert found is not None
        assert Method.EXACT is found.method
        assert pytest.approx(share(0.0)) == found.p_value
        assert found.smallest_p <= found.p_value
        if found.interval is not None:
            low, high = found.interval
            assert min(share(low + 1e-6), share(high - 1e-6)) > 0.05
            assert max(share(low - 1e-6), share(high + 1e-6)) <= 0.05


def test_with_as_many_of_each_order_it_is_the_plain_test() -> None:
    """Equal weights: difference, p and interval are those of flipping plain signs."""
    draw = random.Random(4)
    for count in (6, 10, 16):
        pairs = [(draw.gauss(0, 1), draw.gauss(0.8, 1)) for _ in range(count)]
        plain = permute([Stratum((old,), (new,)) for old, new in pairs])
        found = flip_within_orders(pairs, [place % 2 == 0 for place in range(count)])
        assert plain is not None
        assert found is not None
        assert pytest.approx(plain.difference) == found.difference
        error = 0.0 if found.method is Method.EXACT else 0.02
        assert pytest.approx(plain.p_value, abs=1e-12 + error) == found.p_value
        if found.method is Method.EXACT and plain.interval is not None:
            assert pytest.approx(plain.interval, abs=1e-6) == found.interval


def test_values_of_any_size_and_no_difference_give_figures() -> None:
    """Nothing overflows; pairs that are all level are level."""
    huge = flip_within_orders([(-1e308, 1e308)] * 3 + [(0.0, 1e-300)], [True, True, True, False])
    assert huge is not None
    assert 0.0 < huge.p_value <= 1.0
    level = flip_within_orders([(2.0, 2.0)] * 4, [True, True, True, False])
    assert level is not None
    assert (0.0, 1.0, 1.0) == (level.difference, level.p_value, level.smallest_p)


def test_more_pairs_are_still_estimated() -> None:
    """What is whole is drawn from."""
    records = [
        *turns("AB", [1, 5], student="1"),
        *turns("AB", [2, 5], student="2"),
        *turns("AB", [1, 7], student="3"),
        *turns("BA", [6, 2], student="4"),
    ]
    assert find_more_pairs(*_parted(records)) is not None


#: Pairs that each of four children does before leaving; the first and third begin with old.
LEAVING = {"two after one pair": (1, 4, 1, 4), "one after one, one after three": (1, 4, 3, 4)}


def _group(draw: random.Random, pairs_each: Sequence[int], rise: str, gain: float) -> Sides:
    """Return an invented group as in `test_swap_test`: chance and levels of sd 1, skill +1.5 sd."""
    records = []
    for student, pairs in enumerate(pairs_each):
        level, pattern = draw.gauss(0, 1), ("BAABBAAB" if student % 2 else "ABBAABBA")
        values = [
            round(level + RISES[rise](at / 7) + gain * (letter == "B") + draw.gauss(0, 1), 1)
            for at, letter in enumerate(pattern)
        ]
        records += turns(pattern[: 2 * pairs], values[: 2 * pairs], student=str(student))
    return _parted(records)


@pytest.mark.parametrize("seed", [1, 2, 3])
@pytest.mark.parametrize("rise", RISES)
@pytest.mark.parametrize("leaving", LEAVING)
def test_leaving_lets_no_practice_in(leaving: str, rise: str, seed: int) -> None:
    """With no real change "more" or "less" is said in at most 5 % of groups, on several seeds."""
    draw, groups = random.Random(f"{leaving}{rise}{seed}"), 300
    clear = sum(
        find_swap(*_group(draw, LEAVING[leaving], rise, 0.0)).verdict.clear for _ in range(groups)
    )
    # Allowed for chance: 5 % true, 99.9 % of samples.
    assert clear <= binom.ppf(0.999, groups, 0.05)


def test_a_true_gain_is_still_seen() -> None:
    """A gain of 1 sd is called in nearly half of the groups that two children left."""
    draw, groups = random.Random(9), 300
    sides = [_group(draw, LEAVING["two after one pair"], "steady", 1.0) for _ in range(groups)]
    seen = sum(find_swap(*side).verdict is Verdict.MORE for side in sides)
    assert seen >= binom.ppf(0.001, groups, 0.47)
