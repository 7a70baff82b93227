"""Results of an exchange of own parts: whether it matters which part was used.

In: pairs of neighbouring trials, one student with two parts. Out: an exact p-value and a verdict.
Each part is used by two students and each student uses two parts, so a part that does well does
so in two pairs of hands.

Notes: under the null the two results of a pair could have come the other way round. The statistic
is the sum over parts of the squared sum of a part's differences, so that it grows with any unequal
parts, whichever they are. It does not tell a good part from one that suits its owner.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from math import isfinite

from journal.analysis.verdicts import LEAST_TRIALS, LEVEL

#: Up to so many pairs every way of exchanging their results is looked at.
MOST_EXACT_PAIRS = 14
SHUFFLES = 9_999
SEED = 4_712


class ExchangeWord(StrEnum):
    """What may be said about the parts."""

    TOO_EARLY = "too early"
    #: Both results of every pair are equal.
    SAME = "the same so far"
    HINT = "a hint"
    DIFFER = "differ"
    NO_CLEAR_DIFFERENCE = "no clear difference"


@dataclass(frozen=True, slots=True, kw_only=True)
class ExchangePair:
    """Two results of one student; None for a misfire."""

    student: str
    own: str
    lent: str
    own_value: float | None
    lent_value: float | None

    @property
    def difference(self) -> float | None:
        """Return own minus lent, where both have a value."""
        own, lent = self.own_value, self.lent_value
        if own is None or lent is None or not (isfinite(own) and isfinite(lent)):
            return None
        return own - lent


@dataclass(frozen=True, slots=True, kw_only=True)
class ExchangeFinding:
    """What the exchange says."""

    #: Pairs with both values.
    pairs: int
    lost_pairs: int
    #: None where nothing can be said.
    p_value: float | None
    word: ExchangeWord


@lru_cache(maxsize=256)
def find_exchange(pairs: tuple[ExchangePair, ...]) -> ExchangeFinding:
    """Test whether the parts differ, by exchanging the two results within pairs."""
    whole = [(pair, value) for pair in pairs if (value := pair.difference) is not None]
    n, lost = len(whole), len(pairs) - len(whole)
    if n < LEAST_TRIALS:
        return ExchangeFinding(pairs=n, lost_pairs=lost, p_value=None, word=ExchangeWord.TOO_EARLY)
    names = dict.fromkeys(name for pair, _ in whole for name in (pair.own, pair.lent))
    places = {name: place for place, name in enumerate(names)}
    moves = [(places[pair.own], places[pair.lent], value) for pair, value in whole]
    p_value = _p_value(moves, len(places))
    word = ExchangeWord.DIFFER if p_value <= LEVEL else ExchangeWord.NO_CLEAR_DIFFERENCE
    # All results exchanged gives the same statistic again, so two ways always reach it.
    if 2.0 / 2**n > LEVEL:
        word = ExchangeWord.HINT
    if not any(value for _, value in whole):
        word = ExchangeWord.SAME
    return ExchangeFinding(pairs=n, lost_pairs=lost, p_value=p_value, word=word)


def _p_value(moves: Sequence[tuple[int, int, float]], parts: int) -> float:
    ways = 1 << len(moves)
    sums = [0.0] * parts
    for own, lent, value in moves:
        sums[own] += value
        sums[lent] -= value
    seen = _spread(sums)
    # What differs by rounding only is as far.
    bound = seen - 1e-9 * max(1.0, seen)
    if len(moves) <= MOST_EXACT_PAIRS:
        return _count_all(moves, sums, bound) / ways
    draw = random.Random(SEED)  # noqa: S311  (a test, not a secret)
    as_far = sum(_shuffled(moves, parts, draw) >= bound for _ in range(SHUFFLES))
    return (1 + as_far) / (1 + SHUFFLES)


def _count_all(moves: Sequence[tuple[int, int, float]], sums: list[float], bound: float) -> int:
    """Count the exchanges that lie as far, one pair changed at a time (Gray code)."""
    signs = [1.0] * len(moves)
    sums = list(sums)
    as_far = 1
    for step in range(1, 1 << len(moves)):
        at = (step & -step).bit_length() - 1
        own, lent, value = moves[at]
        change = -2 * signs[at] * value
        signs[at] = -signs[at]
        sums[own] += change
        sums[lent] -= change
        as_far += _spread(sums) >= bound
    return as_far


def _shuffled(moves: Sequence[tuple[int, int, float]], parts: int, draw: random.Random) -> float:
    sums = [0.0] * parts
    flips = draw.getrandbits(len(moves))
    for place, (own, lent, value) in enumerate(moves):
        moved = -value if flips >> place & 1 else value
        sums[own] += moved
        sums[lent] -= moved
    return _spread(sums)


def _spread(sums: Sequence[float]) -> float:
    return sum(value * value for value in sums)
