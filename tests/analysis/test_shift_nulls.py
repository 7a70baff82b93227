"""The ways to have the null distribution agree with one another and with writing out every deal."""

import random
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from journal.analysis.shift_normal import ShiftNormal
from journal.analysis.shift_pairs import ShiftPairs
from journal.analysis.shift_rows import list_deals, shuffle_deals
from journal.analysis.shift_table import ShiftTable, plain_share_beyond
from journal.analysis.strata import Stratum, lay_out
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
    sampled = float(shuffle_deals(layout).share_beyond(Fraction(0)))
    assert sampled == float(shuffle_deals(layout).share_beyond(Fraction(0)))
    assert abs(exact - sampled) < 4 * (exact * (1 - exact) / 9_999) ** 0.5


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
