"""Shares in whole parts that add up."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.content.rounding import show_in_tenths, split_by_line, split_up

SHARES = st.lists(st.floats(0, 1), min_size=1, max_size=5).filter(lambda all_of: sum(all_of) > 0)


def test_parts_add_up_by_largest_remainders() -> None:
    """Method of largest remainders (Hamilton's; textbook example 7 seats of 1, 2, 3: 1 2 4)."""
    assert (1, 2, 4) == split_up((1, 2, 3), 7)
    assert (4, 3, 3) == split_up((1, 1, 1), 10)
    assert (100, 0, 0, 0) == split_up((0.996, 0.002, 0.001, 0.001), 100)
    assert (0, 0) == split_up((0, 0), 100)


@given(SHARES)
def test_any_shares_add_up_and_none_is_off_by_one(shares: list[float]) -> None:
    """All parts together are the whole, and each is its share rounded up or down."""
    parts = split_up(shares, 100)
    assert 100 == sum(parts)
    for share, part in zip(shares, parts, strict=True):
        assert abs(100 * share / sum(shares) - part) < 1 + 1e-9


@given(SHARES, st.sampled_from([0.6, 0.65, 0.683, 0.7]))
def test_a_share_stays_on_its_side_of_the_line(shares: list[float], line: float) -> None:
    """What is named reaches the line it is named from, and nothing else does."""
    parts = split_by_line([share / sum(shares) for share in shares], line)
    assert 100 == sum(parts)
    for share, part in zip(shares, parts, strict=True):
        assert (share / sum(shares) >= line) == (part >= round(100 * line)) or len(shares) == 1


@pytest.mark.parametrize(
    ("part", "told"),
    [
        (0, "very unlikely, under 1 in 10"),
        (4, "very unlikely, under 1 in 10"),
        (5, "unlikely, about 1 in 10"),
        (42, "possible, about 4 in 10"),
        (65, "likely, about 7 in 10"),
        (84, "very likely, about 8 in 10"),
        (99, "very likely, over 9 in 10"),
        (100, "very likely, over 9 in 10"),
    ],
)
def test_nothing_is_quite_sure(part: int, told: str) -> None:
    """Words and tenths: nothing is quite sure, and nothing quite ruled out."""
    assert told == show_in_tenths(part)
