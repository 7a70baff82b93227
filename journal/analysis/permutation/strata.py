"""Old and new values of each student, as whole numbers for exact counting.

Comes in: `Stratum` of plain values. Goes out: `Layout` of whole numbers, with what every way of
dealing out "old" and "new" within the students has in common.

A way of dealing picks, in each stratum, as many values as there are new ones. Its statistic is the
sum s of what it picked. Under the idea that the change adds `shift` to every new value, the new
values are first lowered by `shift`; with j the number of truly new values picked, the statistic
about its mean is (A - B * shift) / common, where A = common * s - centre and
B = common * j - centre_j.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from journal.analysis.permutation.whole_numbers import to_whole


@dataclass(frozen=True, slots=True)
class Stratum:
    """The values of one student (or of one pair of trials) with the old and the new revision."""

    old: tuple[float, ...]
    new: tuple[float, ...]


def all_same(strata: Sequence[Stratum]) -> bool:
    """Tell whether no two values within a stratum differ."""
    return all(len({*stratum.old, *stratum.new}) <= 1 for stratum in strata)


@dataclass(frozen=True, slots=True)
class Layout:
    """Strata as whole numbers >= 0 (each stratum's lowest is 0), and their common figures."""

    strata: tuple[tuple[tuple[int, ...], tuple[int, ...]], ...]
    #: One whole number stands for this much of the outcome's unit.
    unit: Fraction
    #: Least common multiple of the sizes of the strata.
    common: int
    centre: int
    centre_j: int
    #: Sum of the new values, and how many there are: the deal that really happened.
    observed: int
    new_count: int

    @property
    def total(self) -> int:
        """Return in how many ways old and new can be dealt out."""
        return math.prod(math.comb(len(old) + len(new), len(new)) for old, new in self.strata)

    @property
    def reach(self) -> int:
        """Return the greatest sum that any deal can have."""
        return sum(sum(sorted((*old, *new))[len(old) :]) for old, new in self.strata)

    @property
    def spread(self) -> int:
        """Return the greatest distance of two values within a stratum."""
        return max(max((*old, *new)) for old, new in self.strata)

    @property
    def difference(self) -> Fraction:
        """Return the weighted difference of means in whole units: where the statistic is zero."""
        slope = self.common * self.new_count - self.centre_j
        return Fraction(self.common * self.observed - self.centre, slope)

    @property
    def finest(self) -> int:
        """Return the largest denominator a shift can have at which the p-value changes."""
        shared = math.gcd(self.common, 2 * self.centre, 2 * self.centre_j)
        slope = 2 * (self.common * self.new_count - self.centre_j)
        return max(self.new_count, slope // shared)


def lay_out(strata: Sequence[Stratum]) -> Layout | None:
    """Return the strata that hold both old and new values as whole numbers; None without any."""
    both = [stratum for stratum in strata if stratum.old and stratum.new]
    if not both:
        return None
    whole = to_whole([value for stratum in both for value in (*stratum.old, *stratum.new)])
    numbers = iter(whole.numbers)
    lowered: list[tuple[list[int], list[int]]] = []
    for stratum in both:
        old = [next(numbers) for _ in stratum.old]
        new = [next(numbers) for _ in stratum.new]
        lowest = min(*old, *new)
        lowered.append(([n - lowest for n in old], [n - lowest for n in new]))
    step = math.gcd(*(n for old, new in lowered for n in (*old, *new))) or 1
    ready = tuple(
        (tuple(n // step for n in old), tuple(n // step for n in new)) for old, new in lowered
    )
    common = math.lcm(*(len(old) + len(new) for old, new in ready))
    return Layout(
        strata=ready,
        unit=Fraction(step, whole.per_one),
        common=common,
        centre=sum(
            common // (len(old) + len(new)) * len(new) * (sum(old) + sum(new)) for old, new in ready
        ),
        centre_j=sum(common // (len(old) + len(new)) * len(new) ** 2 for old, new in ready),
        observed=sum(sum(new) for _, new in ready),
        new_count=sum(len(new) for _, new in ready),
    )


def smallest_share(layout: Layout) -> Fraction:
    """Return the smallest two-sided p-value these values can reach, whoever they belong to."""
    highest, lowest, high_ways, low_ways = 0, 0, 1, 1
    for old, new in layout.strata:
        ordered = sorted((*old, *new))
        count = len(new)
        top, bottom = ordered[len(old) :], ordered[:count]
        highest += sum(top)
        lowest += sum(bottom)
        high_ways *= math.comb(ordered.count(top[0]), top.count(top[0]))
        low_ways *= math.comb(ordered.count(bottom[-1]), bottom.count(bottom[-1]))
    above = layout.common * highest - layout.centre
    below = layout.centre - layout.common * lowest
    if above == below == 0:
        return Fraction(1)
    ways = (high_ways if above >= below else 0) + (low_ways if below >= above else 0)
    return Fraction(ways, layout.total)
