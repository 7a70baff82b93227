"""What each look at running data may cost, so that all looks together keep the level.

Comes in: how much of the planned information each look had (0 to 1), and the level of all looks.
Goes out: the two-sided level that each look has for itself.

A spending function says how much of the level may be used up by then; the bound of a look is the
one that uses up just what is new, given that no look before called. Found by integrating over what
is still undecided, look by look (Armitage, McPherson & Rowe 1969). Lan & DeMets, Biometrika 70
(1983), 659-663.
"""

from __future__ import annotations

import math
from enum import StrEnum
from functools import lru_cache
from statistics import NormalDist
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

#: Points of the integral over what is undecided; four decimals of z need half as many, and steps
#: that are small beside the bound four times as many.
_POINTS = 64
#: Farther out than so many standard deviations nothing is undecided that matters.
_REACH = 9.0
_MOST_STEPS = 100
#: Bounds closer than this are one.
_CLOSE = 1e-9
#: A look that adds less than this part to the information is no new one.
_LEAST_GAIN = 0.004
#: Less than this is nothing to spend.
_LEAST = 1e-12
_NORMAL = NormalDist()
_ROOT_TWO = math.sqrt(2.0)


class Spending(StrEnum):
    """How the level is used up."""

    #: Nearly alike at every look: for verdicts, which should come early where they can.
    POCOCK = "pocock"
    #: Little at first, nearly all at the end: for a plan that is meant to be finished.
    OBRIEN_FLEMING = "obrien_fleming"


def spent_by(fraction: float, level: float, spending: Spending) -> float:
    """Return how much of `level` may be used up at `fraction` of the information, in 0..1.

    `spending` is the function that says so.
    """
    if fraction <= 0:
        return 0.0
    share = min(fraction, 1.0)
    if spending is Spending.POCOCK:
        return level * math.log(1 + (math.e - 1) * share)
    z = _NORMAL.inv_cdf(1 - level / 4)
    return 2 * math.erfc(z / math.sqrt(share) / _ROOT_TWO)


@lru_cache(maxsize=4096)
def levels_of(fractions: tuple[float, ...], level: float, spending: Spending) -> tuple[float, ...]:
    """Return the two-sided level of each look for itself, so that `spending` uses up `level`.

    `fractions` rise; what lies beyond 1 counts as 1. A look at which nothing is left to spend has
    the level 0.
    """
    import numpy as np  # noqa: PLC0415 - as in `permutation.shift_shuffles`

    levels: list[float] = []
    # What is undecided: places of a path that starts at 0 and gains variance with information.
    places, masses = np.zeros(1), np.ones(1)
    last, used = 0.0, 0.0
    for look, fraction in enumerate(fractions):
        share = min(fraction, 1.0)
        allowed = spent_by(share, level, spending)
        # With hardly any new information what is newly allowed is left to the next look.
        if share - last <= _LEAST_GAIN * share or allowed - used <= _LEAST:
            levels.append(0.0)
            continue
        step = math.sqrt(share - last)
        bound = _find_bound(places.tolist(), masses.tolist(), step, allowed - used, share)
        levels.append(math.erfc(bound / math.sqrt(2 * share)))
        reach = min(bound, _REACH * math.sqrt(share))
        nodes, weights = _nodes(_count_points(reach, share, fractions[look + 1 :]))
        ahead = nodes * reach
        masses = weights * reach * (_density(ahead, places, step) @ masses)
        places, last, used = ahead, share, allowed
    return tuple(levels)


def _count_points(reach: float, share: float, later: tuple[float, ...]) -> int:
    """Return how many points the next step needs: it must not fall between two of them."""
    gain = min(later[0], 1.0) - share if later else share
    return _POINTS if 2 * reach < math.sqrt(max(gain, 0.0)) * _POINTS / 4 else 4 * _POINTS


@lru_cache(maxsize=2)
def _nodes(count: int) -> tuple[NDArray[float64], NDArray[float64]]:
    import numpy as np  # noqa: PLC0415 - as above

    nodes, weights = np.polynomial.legendre.leggauss(count)
    return nodes, weights


def _density(ahead: NDArray[float64], places: NDArray[float64], step: float) -> NDArray[float64]:
    import numpy as np  # noqa: PLC0415 - as above

    moves = (ahead[:, None] - places[None, :]) / step
    density: NDArray[float64] = np.exp(-0.5 * moves * moves) / (step * math.sqrt(2 * math.pi))
    return density


def _find_bound(
    places: list[float], masses: list[float], step: float, target: float, share: float
) -> float:
    """Return the bound that `target` of the mass passes on either side, by Newton's method."""
    # Beyond this bound lies so much without any earlier look; with them, less.
    low, high = 0.0, -_NORMAL.inv_cdf(target / 2) * math.sqrt(share)
    bound = high
    for _ in range(_MOST_STEPS):
        beyond, slope = 0.0, 0.0
        for place, mass in zip(places, masses, strict=True):
            away = (bound - place) / step
            beyond += mass * math.erfc(away / _ROOT_TWO)
            slope += mass * math.exp(-0.5 * away * away)
        slope *= 2 / (step * math.sqrt(2 * math.pi))
        low, high = (bound, high) if beyond > target else (low, bound)
        # The logarithm of what lies beyond is nearly a parabola, so few steps are needed.
        change = math.log(beyond / target) * beyond / slope if beyond and slope else math.inf
        if abs(change) < _CLOSE:
            break
        bound = bound + change if low < bound + change < high else (low + high) / 2
    return bound
