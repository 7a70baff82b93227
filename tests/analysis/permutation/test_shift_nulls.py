"""The ways to have the null distribution agree with one another and with writing out every deal."""

import random
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from journal.analysis.permutation.shift_normal import ShiftNormal
from journal.analysis.permutation.shift_pairs import ShiftPairs
from journal.analysis.permutation.shift_rows import list_deals
from journal.analysis.permutation.shift_shuffles import ShiftShuffles, draw_deals
from journal.analysis.permutation.shift_table import ShiftTable, plain_share_beyond
from journal.analysis.permutation.strata import Stratum, lay_out
from tests.analysis.deals import brute_share
from tests.analysis.trial_records import strata


@settings(max_examples=60, deadline=None)
@given(strata(most=3), st.fractions(-60, 60, max_denominator=6))
def test_every_exact_way_gives_the_same_share(groups: list[Stratum], shift: Fraction) -> None:
    """Table, pairs and list answer alike for every shift."""
    layout = lay_out(groups)
    assert layout is not None
    expected = brute_share(groups, shift * layout.unit)
    pairs = ShiftPairs(layout, 10**6)
    assert expected == ShiftTable(layout).share_beyond(shift)
    assert expected == list_deals(layout).share_beyond(shift)
    assert expected == pairs.share_beyond(shift)
    assert pytest.approx(float(expected), abs=1e-12) == float(pairs.rough_share_beyond(shift))


@settings(max_examples=60, deadline=None)
@given(strata(most=4, students=2))
def test_small_table_gives_the_p_value_without_a_shift(groups: list[Stratum]) -> None:
    """The small table and the large one agree where both can be asked."""
    layout = lay_out(groups)
    assert layout is not None
    assert brute_share(groups) == plain_share_beyond(layout)


def _large(count: int) -> Stratum:
    draw = random.Random(2)
    old = tuple(float(draw.randint(0, 8)) for _ in range(count))
    return Stratum(old, tuple(float(draw.randint(0, 8)) + 0.5 for _ in range(count)))


def test_shuffles_come_close_to_the_exact_share_and_repeat() -> None:
    """9,999 seeded shuffles: the same answer each time, within 4 standard errors."""
    layout = lay_out([_large(12)])
    assert layout is not None
    exact = float(ShiftTable(layout).share_beyond(Fraction(0)))
    sampled = float(ShiftShuffles(layout).share_beyond(Fraction(0)))
    assert sampled == float(ShiftShuffles(layout).share_beyond(Fraction(0)))
    assert abs(exact - sampled) < 4 * (exact * (1 - exact) / 9_999) ** 0.5


def test_shuffles_are_as_close_as_is_said_whatever_the_values() -> None:
    """Fine, mostly zero, with a far value: within four standard errors of the exact share."""
    draw = random.Random(8)
    for kind in range(30):
        groups = [
            Stratum(
                *(
                    tuple(_measure(draw, kind % 3, lift) for _ in range(count))
                    for lift, count in ((0.0, 5), (9.0 * (kind % 4), 3))
                )
            )
            for _ in range(4)
        ]
        layout = lay_out(groups)
        assert layout is not None
        pairs, shuffles = ShiftPairs(layout, 10**6), ShiftShuffles(layout)
        for shift in (Fraction(0), Fraction(40), Fraction(-75)):
            exact = float(pairs.share_beyond(shift))
            error = 4 * (exact * (1 - exact) / 9_999) ** 0.5 + 1e-4
            assert abs(exact - float(shuffles.share_beyond(shift))) < error


def _measure(draw: random.Random, kind: int, lift: float) -> float:
    value = round(draw.gauss(300 + lift, 60), 1)
    if kind == 1 and draw.random() < 0.6:
        return 0.0
    return 9_000.0 if kind == 2 and draw.random() < 0.05 else value


def test_deals_are_drawn_once_for_the_same_sizes() -> None:
    """Other values of as many trials take the deals that are there."""
    draw = random.Random(3)
    misses = []
    for _ in range(2):
        sides = [tuple(draw.random() for _ in range(count)) for count in (17, 13)]
        layout = lay_out([Stratum(*sides)] * 2)
        assert layout is not None
        ShiftShuffles(layout)
        misses.append(draw_deals.cache_info().misses)
    assert misses[0] == misses[1]


def test_shuffles_take_values_of_any_size() -> None:
    """The largest and the smallest number that a file can hold: a share all the same."""
    layout = lay_out([Stratum((1e308, 5e-324, 0.0), (-1e308, 1.0, 2.5))])
    assert layout is not None
    exact = float(list_deals(layout).share_beyond(Fraction(0)))
    assert abs(exact - float(ShiftShuffles(layout).share_beyond(Fraction(0)))) < 0.02


@pytest.mark.parametrize("shift", [Fraction(0), Fraction(1), Fraction(-3, 2)])
def test_normal_distribution_comes_close_for_many_trials(shift: Fraction) -> None:
    """With sixty a side the normal share is within .01 of the exact one, shifted or not."""
    layout = lay_out([_large(60)])
    assert layout is not None
    exact = float(ShiftTable(layout).share_beyond(shift))
    assert pytest.approx(exact, abs=0.01) == float(ShiftNormal(layout).share_beyond(shift))


def test_pairs_say_when_they_would_be_too_long() -> None:
    """A list longer than allowed is not begun."""
    layout = lay_out([_large(20)])
    assert layout is not None
    assert not ShiftPairs(layout, 50).fits
