"""A seeded sample of the permutations of old and new, where there are too many to count.

Comes in: `Layout`. Goes out: the same answers as `shift_table`, from 9,999 shuffles; the real deal
counts as one more. The same seed for the same sizes: a finding never changes by itself, and the
deals are drawn once for all data with as many old and new values of each student. A share of .05
is then right to within .0044 in 95 of 100 such draws (binomial), whatever the values.

numpy is imported here alone, when it is needed: most tables are counted without it, and a command
that needs none starts without it. A running server gets it ready beforehand.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING

from journal.analysis.permutation.strata import Layout

if TYPE_CHECKING:
    from numpy import bool_, float64
    from numpy.typing import NDArray

SHUFFLES = 9_999
#: Any number does; this one is ours for good.
SEED = 20_231
#: Sums of shares of the spread that lie closer together than this are one.
_TIE = 1e-12
#: Kept draws: classes have few sizes, and one draw takes about 100 kB.
_KEPT = 256


def get_ready() -> None:
    """Import numpy, so that the first who asks does not wait for it; returns None."""
    import numpy as np  # noqa: PLC0415 - see above

    np.random.default_rng(SEED)


class ShiftShuffles:
    """A null distribution as the sums of a sample of deals."""

    def __init__(self, layout: Layout) -> None:
        """Add up the values that each deal picks, as shares of the spread."""
        import numpy as np  # noqa: PLC0415 - takes a tenth of a second, and most tables need none

        self.layout = layout
        self.spread = max(layout.spread, 1)
        self.sums = np.zeros(SHUFFLES)
        #: How many truly new values each deal picked.
        self.new_picked = np.zeros(SHUFFLES)
        for place, (values, turned) in enumerate(sorted(map(in_line, layout.strata))):
            shares = np.array([value / self.spread for value, _ in values])
            is_new = np.array([is_first is turned for _, is_first in values], dtype=float)
            dealt = draw_deals(place, len(values), sum(is_first for _, is_first in values))
            sums, new_picked = dealt @ shares, dealt @ is_new
            self.sums += sums if turned else shares.sum() - sums
            self.new_picked += new_picked if turned else is_new.sum() - new_picked
        # About the mean of all deals, so that a shift needs one product and one difference.
        self.sums -= layout.centre / (layout.common * self.spread)
        self.new_picked -= layout.centre_j / layout.common

    def share_beyond(self, shift: Fraction) -> Fraction:
        """Return the share of deals at least as far out as the real one, for a shift in units."""
        layout, delta = self.layout, float(shift / self.spread)
        slope = layout.new_count - layout.centre_j / layout.common
        seen = abs(float(layout.difference / self.spread) - delta) * slope
        out = abs(self.sums - delta * self.new_picked)
        beyond = int((out >= seen - _TIE * (1 + seen)).sum())
        return Fraction(beyond + 1, SHUFFLES + 1)


def in_line(
    stratum: tuple[Sequence[int], Sequence[int]],
) -> tuple[list[tuple[int, bool]], bool]:
    """Return the values of a `stratum` in rising order, True where they are of the first side.

    The first side is the shorter one, so that the same deals stand for the same values, whichever
    side is called new and in whatever order they were had; also whether that is the new one.
    """
    old, new = (sorted(side) for side in stratum)
    turned = (len(new), new) < (len(old), old)
    first, second = (new, old) if turned else (old, new)
    marked = [*((value, True) for value in first), *((value, False) for value in second)]
    return sorted(marked), turned


@lru_cache(maxsize=_KEPT)
def draw_deals(place: int, count: int, picks: int) -> NDArray[bool_]:
    """Draw which `picks` of `count` values each deal picks; each `place` has draws of its own."""
    import numpy as np  # noqa: PLC0415 - as above

    draw = np.random.default_rng([SEED, place, count, picks])
    keys: NDArray[float64] = draw.random((SHUFFLES, count))
    chosen = np.argpartition(keys, picks - 1, axis=1)[:, :picks]
    picked: NDArray[bool_] = np.zeros(keys.shape, dtype=bool)
    np.put_along_axis(picked, chosen, values=True, axis=1)
    return picked
