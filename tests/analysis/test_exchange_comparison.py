"""Whether it matters which own part was used."""

from __future__ import annotations

import random
from itertools import product

import pytest
from scipy.stats import binom

from journal.analysis.exchange_comparison import (
    MOST_EXACT_PAIRS,
    ExchangePair,
    ExchangeWord,
    find_exchange,
)


def _ring(
    parts: dict[str, float], rounds: int, draw: random.Random | None = None
) -> tuple[ExchangePair, ...]:
    """Return pairs of students who use their own part and the next one's, with these levels."""
    names = list(parts)

    def value(part: str) -> float:
        return parts[part] + (draw.gauss(0, 1) if draw else 0.0)

    return tuple(
        ExchangePair(
            student=f"student of {own}",
            own=own,
            lent=lent,
            own_value=value(own),
            lent_value=value(lent),
        )
        for _ in range(rounds)
        for own, lent in zip(names, [*names[1:], names[0]], strict=True)
    )


def test_p_value_is_that_of_exchanging_results_in_every_way() -> None:
    """Seven pairs, all 128 ways written out."""
    draw = random.Random(5)
    pairs = _ring({"a": 0.0, "b": 1.0, "c": 0.0}, 3, draw)[:7]

    def statistic(signs: tuple[int, ...]) -> float:
        sums = dict.fromkeys("abc", 0.0)
        for sign, pair in zip(signs, pairs, strict=True):
            sums[pair.own] += sign * (pair.difference or 0.0)
            sums[pair.lent] -= sign * (pair.difference or 0.0)
        return sum(one * one for one in sums.values())

    seen = statistic((1,) * 7)
    as_far = sum(statistic(signs) >= seen - 1e-9 for signs in product((1, -1), repeat=7))
    assert as_far / 128 == find_exchange(pairs).p_value


def test_two_parts_are_a_sign_flip_test() -> None:
    """With two parts only the statistic is the square of one sum: 2 of 2^6 ways are as far."""
    found = find_exchange(_ring({"a": 3.0, "b": 1.0}, 3))
    assert (6, 2 / 64, ExchangeWord.DIFFER) == (found.pairs, found.p_value, found.word)


def test_shuffles_agree_with_looking_at_all() -> None:
    """One pair more than is looked at exactly moves the p-value a little only."""
    exact = _ring({"a": 0.3, "b": 0.0}, MOST_EXACT_PAIRS // 2, random.Random(3))
    shuffled = (*exact, ExchangePair(student="x", own="a", lent="b", own_value=1.0, lent_value=1.0))
    one, other = find_exchange(exact).p_value, find_exchange(shuffled).p_value
    assert one == pytest.approx(other, abs=0.02)
    assert find_exchange(shuffled).p_value == other


@pytest.mark.parametrize(
    ("rounds", "word"),
    [(1, ExchangeWord.TOO_EARLY), (2, ExchangeWord.HINT), (3, ExchangeWord.DIFFER)],
)
def test_words_wait_for_pairs(rounds: int, word: ExchangeWord) -> None:
    """Two pairs are too early, four a hint at most, six can be clear."""
    assert word is find_exchange(_ring({"a": 3.0, "b": 1.0}, rounds)).word


def test_misfires_and_what_is_no_number_lose_their_pair() -> None:
    """A misfire, and a value that cannot be, are left out and counted."""
    lost = [
        ExchangePair(student="s", own="a", lent="b", own_value=None, lent_value=2.0),
        ExchangePair(student="s", own="a", lent="b", own_value=1.0, lent_value=float("nan")),
    ]
    found = find_exchange((*_ring({"a": 3.0, "b": 1.0}, 3), *lost))
    assert (6, 2) == (found.pairs, found.lost_pairs)
    assert find_exchange(()).p_value is None


def test_equal_values_tell_nothing_apart() -> None:
    """All the same: every way is as far."""
    found = find_exchange(_ring({"a": 2.0, "b": 2.0, "c": 2.0}, 4))
    assert (1.0, ExchangeWord.SAME) == (found.p_value, found.word)


@pytest.mark.parametrize(("gain", "least", "most"), [(0.0, 0.0, 0.05), (2.0, 0.80, 1.0)])
def test_how_often_a_difference_is_said(gain: float, least: float, most: float) -> None:
    """Three equal parts: in at most 5 % of groups; one better by 2 sd: in most (invented)."""
    groups, draw = 200, random.Random(f"{gain}")
    said = sum(
        find_exchange(_ring({"a": gain, "b": 0.0, "c": 0.0}, 4, draw)).word is ExchangeWord.DIFFER
        for _ in range(groups)
    )
    # Allowed for chance: 99.9 % of samples.
    assert binom.ppf(0.001, groups, least) <= said <= binom.ppf(0.999, groups, most)
