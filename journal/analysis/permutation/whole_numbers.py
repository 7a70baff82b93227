"""Measured values as whole numbers of one small unit, so that sums are exact.

Comes in: floats as people wrote them (12.5, 0.1). Goes out: integers and how many of them make one.
A float stands for the shortest decimal that reads back as the same float: 0.1 is one tenth here,
not 0.1000000000000000055.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

_QUICK_SCALES = (1, 2, 10, 100, 1_000, 10_000)
_EXACT_UP_TO = 2**52


@dataclass(frozen=True, slots=True)
class WholeNumbers:
    """Values as integers: `numbers[i] / per_one` is the value."""

    numbers: tuple[int, ...]
    per_one: int

    def value_of(self, number: Fraction | int) -> float:
        """Return a number of small units as a value in the outcome's unit."""
        return float(Fraction(number) / self.per_one)


def to_whole(values: Sequence[float]) -> WholeNumbers:
    """Return finite values as whole numbers of the largest common decimal unit that holds them."""
    largest = max((abs(value) for value in values), default=0.0)
    for per_one in _QUICK_SCALES:
        if largest * per_one >= _EXACT_UP_TO:
            break
        numbers = [round(value * per_one) for value in values]
        # Division of two exact integers is rounded correctly, so equality means "same decimal".
        if all(number / per_one == value for number, value in zip(numbers, values, strict=True)):
            return WholeNumbers(tuple(numbers), per_one)
    exact = [Fraction(repr(float(value))) for value in values]
    per_one = math.lcm(*(fraction.denominator for fraction in exact))
    return WholeNumbers(tuple(int(fraction * per_one) for fraction in exact), per_one)
