"""Pairs of a swap test in which old came first more often than new, or less often.

In: new minus old of each pair, and whether old came first. Out: the mean of both orders' mean
differences, its 95 % interval and p-value. Practice adds as much to a pair that began with old as
it takes from one that began with new, so each order counts one half, however many pairs it has.

Under the idea that the device changes nothing, the sign of each pair's share in that mean could
have been the other one: every way to flip them where they are few, else 9,999 seeded ones.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from journal.analysis.permutation.permute import LEVEL, Method, PermutationTest
from journal.analysis.permutation.shift_shuffles import SEED, SHUFFLES

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

#: Up to so many pairs every way of flipping is looked at: 8,192 of them, a flip of all left out.
MOST_COUNTED = 14
#: Sums of shares of the largest difference that lie closer together than this are one.
_TIE = 1e-12
_HALVINGS = 60


def flip_within_orders(
    pairs: Sequence[tuple[float, float]], old_first: Sequence[bool]
) -> PermutationTest | None:
    """Test `pairs` (old value, new value), in the unit of the outcome.

    `old_first` says for each pair which came first. None unless each order has a pair.
    """
    import numpy as np  # noqa: PLC0415 - as in `shift_shuffles`

    count, first = len(pairs), sum(old_first)
    if first in {0, count}:
        return None
    # Halves, so that no difference overflows.
    halves = [new / 2 - old / 2 for old, new in pairs]
    largest = max(map(abs, halves)) or 1.0
    weights = np.array(
        [0.5 / (first if is_old_first else count - first) for is_old_first in old_first]
    )
    shares = np.array([half / largest for half in halves]) * weights
    signs, method = _draw(count)
    sums, turned = signs @ shares, signs @ weights
    difference = float(shares.sum())

    def share_beyond(shift: float) -> float:
        seen = abs(difference - shift)
        beyond = int((abs(sums - shift * turned) >= seen - _TIE * (1 + seen)).sum())
        extra = method is not Method.EXACT
        return (beyond + extra) / (len(sums) + extra)

    interval = _interval(share_beyond, difference)
    return PermutationTest(
        difference=2 * largest * difference,
        interval=None
        if interval is None
        else (2 * largest * interval[0], 2 * largest * interval[1]),
        p_value=share_beyond(0.0),
        smallest_p=min(1.0, 2.0 ** (1 - sum(half != 0 for half in halves))),
        method=method,
        interval_method=method,
    )


@lru_cache(maxsize=64)
def _draw(count: int) -> tuple[NDArray[float64], Method]:
    """Return signs by pair, a row for each way; a row and its opposite say the same."""
    import numpy as np  # noqa: PLC0415 - as above

    if count <= MOST_COUNTED:
        ways = np.arange(2 ** (count - 1))[:, None]
        flips, method = (ways >> np.arange(count)) & 1, Method.EXACT
    else:
        draw = np.random.default_rng([SEED, count])
        flips, method = draw.integers(0, 2, (SHUFFLES, count)), Method.SHUFFLES
    signs: NDArray[float64] = np.where(flips, -1.0, 1.0)
    return signs, method


def _interval(
    share_beyond: Callable[[float], float], difference: float
) -> tuple[float, float] | None:
    """Return the shifts not ruled out at the level; None where there is no end."""
    # No difference is larger than 1 here, and farther out nothing new happens.
    ends = [_end(share_beyond, difference, reach) for reach in (-1.0, 1.0)]
    low, high = ends
    return None if low is None or high is None else (low, high)


def _end(share_beyond: Callable[[float], float], difference: float, sign: float) -> float | None:
    reach = 1.0
    while share_beyond(difference + sign * reach) > LEVEL:
        reach *= 2.0
        if reach > 2.0**_HALVINGS:
            return None
    inside, outside = difference, difference + sign * reach
    for _ in range(_HALVINGS):
        middle = (inside + outside) / 2
        if share_beyond(middle) > LEVEL:
            inside = middle
        else:
            outside = middle
    return inside
