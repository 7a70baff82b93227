"""Permutation test of old against new in units of its own scatter, within students.

Comes in: the old and new values of each student. Goes out: the two-sided p-value.

The plain test asks whether both are the same in every way. Where one side has fewer trials and
scatters more, it finds a difference of the means that is not there; in units of the scatter that
each deal itself has, that is made good (Janssen, Statistics & Probability Letters 36 (1997), 9-21;
Chung & Romano, Annals of Statistics 41 (2013), 484-507). The scatter of a side is that within
students; where a side has no student with two values, it is how unlike the students' differences
are. Of very many trials the statistic is as good as normal.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache, reduce
from itertools import combinations
from typing import TYPE_CHECKING

from journal.analysis.permutation.permute import MOST_LISTED, MOST_SHUFFLED
from journal.analysis.permutation.shift_shuffles import SHUFFLES, draw_deals, in_line
from journal.analysis.permutation.strata import Layout, Stratum, lay_out

if TYPE_CHECKING:
    from numpy import bool_, float64
    from numpy.typing import NDArray

#: Squares smaller than this, of shares of the spread, are what is left by rounding.
_NOTHING = 1e-12
_TIE = 1e-9


def studentised_share(strata: Sequence[Stratum]) -> float | None:
    """Return the two-sided p-value; None where no scatter can be told."""
    import numpy as np  # noqa: PLC0415 - as in `shift_shuffles`

    layout = lay_out(strata)
    if layout is None:
        return None
    weights = _weigh(layout)
    if weights is None:
        return None
    listed = layout.total <= MOST_LISTED
    spread = max(layout.spread, 1)
    parts, real = [], []
    many = sum(len(old) + len(new) for old, new in layout.strata) > MOST_SHUFFLED
    for place, (values, turned) in enumerate(sorted(map(in_line, layout.strata))):
        shares = np.array([value / spread for value, _ in values])
        first = np.array([is_first for _, is_first in values])
        picks = int(first.sum())
        real.append(_add_up(first[None, :], shares, turned=turned))
        if many:
            continue
        deals = _list_deals(len(values), picks) if listed else draw_deals(place, len(values), picks)
        parts.append(_add_up(deals, shares, turned=turned))
    seen = float(weights.square(sum(real[1:], real[0]))[0])
    if many:
        return math.erfc(math.sqrt(seen / 2))
    out = weights.square(reduce(_every_with_every, parts) if listed else sum(parts[1:], parts[0]))
    beyond = int((out >= seen * (1 - _TIE)).sum())
    return beyond / out.size if listed else (beyond + 1) / (SHUFFLES + 1)


@dataclass(frozen=True, slots=True)
class _Weights:
    """What turns the sums over the students into the squared statistic."""

    #: By side: what a square within students adds to the variance; None where a side has none.
    per_square: tuple[float, float] | None
    total: float
    total_of_squares: float

    def square(self, sums: NDArray[float64]) -> NDArray[float64]:
        """Return the squared statistic of each deal; infinite where it has no scatter at all."""
        import numpy as np  # noqa: PLC0415 - as above

        apart, old, new, squares, cross = sums
        if self.per_square is not None:
            variance = self.per_square[0] * old + self.per_square[1] * new
        else:
            mean = apart / self.total
            variance = squares - 2 * mean * cross + mean * mean * self.total_of_squares
        top = np.where(np.abs(apart) < _NOTHING, 0.0, apart * apart)
        flat = variance < _NOTHING
        ratio: NDArray[float64] = np.where(
            flat, np.where(top > 0, np.inf, 0.0), top / np.where(flat, 1.0, variance)
        )
        return ratio


def _weigh(layout: Layout) -> _Weights | None:
    sizes = [(len(old), len(new)) for old, new in layout.strata]
    weights = [old * new / (old + new) for old, new in sizes]
    freedom = [sum(size[side] - 1 for size in sizes) for side in (0, 1)]
    per_square = None
    if min(freedom):
        # A squared weight over the size of a side is the variance of its weighted mean.
        old_share, new_share = (
            sum(weight * weight / size[side] for weight, size in zip(weights, sizes, strict=True))
            / freedom[side]
            for side in (0, 1)
        )
        per_square = (old_share, new_share)
    elif len(sizes) == 1:
        return None
    return _Weights(
        per_square=per_square,
        total=sum(weights),
        total_of_squares=sum(weight * weight for weight in weights),
    )


def _add_up(deals: NDArray[bool_], shares: NDArray[float64], *, turned: bool) -> NDArray[float64]:
    """Return for each deal of one student what is added up over the students.

    The weighted difference; the squares within old and within new; the square of the weighted
    difference, and that difference times its weight. `turned` tells that the deals pick new values.
    """
    import numpy as np  # noqa: PLC0415 - as above

    count = len(shares)
    picks = int(deals[0].sum())
    sums, squares = deals @ shares, deals @ (shares * shares)
    rest, rest_squares = shares.sum() - sums, (shares * shares).sum() - squares
    picked_within = squares - sums * sums / picks
    rest_within = rest_squares - rest * rest / (count - picks)
    weight = picks * (count - picks) / count
    apart = weight * (sums / picks - rest / (count - picks))
    if turned:
        old, new = rest_within, picked_within
    else:
        apart, old, new = -apart, picked_within, rest_within
    added: NDArray[float64] = np.stack([apart, old, new, apart * apart, apart * weight])
    return added


def _every_with_every(first: NDArray[float64], second: NDArray[float64]) -> NDArray[float64]:
    """Return the sums of each deal of one student with each of another."""
    return (first[:, :, None] + second[:, None, :]).reshape(len(first), -1)


@lru_cache(maxsize=64)
def _list_deals(count: int, picks: int) -> NDArray[bool_]:
    import numpy as np  # noqa: PLC0415 - as above

    chosen = np.array(list(combinations(range(count), picks)))
    picked: NDArray[bool_] = np.zeros((len(chosen), count), dtype=bool)
    np.put_along_axis(picked, chosen, values=True, axis=1)
    return picked
