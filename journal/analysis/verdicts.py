"""Verdicts of comparisons, and the adjustment of p-values where several are shown.

Comes in: counts and p-values. Goes out: `Verdict`, in the order in which the words are tried.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

LEVEL = 0.05
#: With fewer trials a side than this no verdict is formed (set by hand).
LEAST_TRIALS = 3


class Verdict(StrEnum):
    """What may be said about new against old; "more" and "less" speak of the measure itself."""

    NOT_COMPARABLE = "not comparable"
    TOO_EARLY = "too early"
    #: No two of the values that are compared differ.
    SAME = "the same so far"
    HINT = "a hint"
    MORE = "more"
    LESS = "less"
    NO_CLEAR_DIFFERENCE = "no clear difference"
    #: The comparison could not be worked out.
    CANNOT_SAY = "cannot say"

    @property
    def tests(self) -> bool:
        """Tell whether the comparison was tested, and so counts among those shown."""
        return self not in {Verdict.NOT_COMPARABLE, Verdict.TOO_EARLY, Verdict.CANNOT_SAY}

    @property
    def clear(self) -> bool:
        """Tell whether a difference was found."""
        return self in {Verdict.MORE, Verdict.LESS}


class PracticeWord(StrEnum):
    """Whether practice alone could explain a difference."""

    NOT_RULED_OUT = "not ruled out"
    BALANCED = "balanced"


def holm(p_values: Sequence[float]) -> list[float]:
    """Return `p_values` adjusted for being shown together, in their order.

    Holm, Scandinavian Journal of Statistics 6 (1979), 65-70.
    """
    count = len(p_values)
    adjusted = [0.0] * count
    highest = 0.0
    for rank, place in enumerate(sorted(range(count), key=p_values.__getitem__)):
        highest = max(highest, min(1.0, (count - rank) * p_values[place]))
        adjusted[place] = highest
    return adjusted


def judge(
    difference: float, adjusted_p: float, adjusted_smallest: float, *, same: bool = False
) -> Verdict:
    """Return the verdict on two comparable sides with enough trials each.

    `difference` is new minus old, in the unit of the outcome; `adjusted_p` its p-value, adjusted
    for those shown with it; `adjusted_smallest` the smallest that these data could reach, adjusted
    alike; `same` whether no value differs at all.
    """
    if same:
        return Verdict.SAME
    if adjusted_smallest > LEVEL:
        return Verdict.HINT
    if adjusted_p > LEVEL or difference == 0:
        return Verdict.NO_CLEAR_DIFFERENCE
    return Verdict.MORE if difference > 0 else Verdict.LESS
