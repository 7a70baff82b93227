"""Is the level still rising? Slope against scatter over the last trials, looked at after each one.

In: merits in order, higher is better. Out: `Trend`: the slope in units of the scatter, what it must
stay under to be called flat, and whether the scatter is shrinking fast.

Set on drawn sequences (tests/simulation): of groups whose mean rises by .15 of the scatter a trial
at most a tenth are ever called within 24 trials. A scatter that shrinks by less than half in the
window looks like a plateau.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, isfinite, sqrt

#: Trials before the first look, and in the window from then on.
FIRST_LOOK = 10
WINDOW = 20
#: A rise that must not be called: this much of the scatter a trial.
RISE = 0.15
#: How many standard errors the slope must lie below it. Most of the wrong calls that are allowed
#: are spent about the twelfth trial, where they shorten the delay most: fewer are asked for from
#: look to look until then, and many after it, as looks add up.
FIRST_DEMANDS = {10: 2.0, 11: 1.8, 12: 1.6}
LAST_DEMAND = 2.4
#: A scatter that fell to less than this share from the first half of the window to the second is
#: progress by itself.
SHRUNK = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Trend:
    """The level over the last trials."""

    trials: int
    #: Rise a trial, in units of the scatter about the line.
    slope: float
    #: The level is called flat below this slope.
    bound: float
    #: Scatter of the second half over that of the first; None where the first has none.
    scatter_ratio: float | None

    @property
    def is_flat(self) -> bool:
        """Tell whether neither level nor scatter gets better."""
        steady = self.scatter_ratio is None or self.scatter_ratio > SHRUNK
        return self.slope < self.bound and steady


def find_trend(merits: Sequence[float], *, stricter: float = 0.0) -> Trend | None:
    """Return the trend over the last merits; None for too few.

    `stricter` is added to the standard errors asked for: more of it, fewer and later calls.
    """
    count = len(merits)
    if count < FIRST_LOOK:
        return None
    last = merits[-WINDOW:]
    n = len(last)
    middle = (n - 1) / 2
    breadth = n * (n * n - 1) / 12
    mean = fsum(last) / n
    slope = fsum((at - middle) * value for at, value in enumerate(last)) / breadth
    left = fsum((value - mean - slope * (at - middle)) ** 2 for at, value in enumerate(last))
    scatter = sqrt(left / (n - 2))
    demand = FIRST_DEMANDS.get(count, LAST_DEMAND) + stricter
    return Trend(
        trials=n,
        slope=_in_units_of(slope, scatter, max(map(abs, last))),
        bound=RISE - demand / sqrt(breadth),
        scatter_ratio=_ratio_of_halves(last),
    )


def _in_units_of(slope: float, scatter: float, size: float) -> float:
    # What is left by rounding is no scatter and no slope.
    least = 1e-9 * size
    if scatter > least:
        ratio = slope / scatter
        return ratio if isfinite(ratio) else 0.0
    if abs(slope) <= least:
        return -1.0
    return 1.0 if slope > 0 else -1.0


def _ratio_of_halves(last: Sequence[float]) -> float | None:
    half = len(last) // 2
    first, second = (_variance(part) for part in (last[: len(last) - half], last[-half:]))
    return None if first == 0 else sqrt(second / first)


def _variance(values: Sequence[float]) -> float:
    mean = fsum(values) / len(values)
    return fsum((value - mean) ** 2 for value in values) / (len(values) - 1)
