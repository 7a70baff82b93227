"""The null distribution of very many trials, where it is as good as normal.

Comes in: `Layout`. Goes out: the same answers as `shift_table`, by the mean and variance of the
statistic over all ways of dealing; the method says so.
"""

from __future__ import annotations

import math
from fractions import Fraction

from journal.analysis.permutation.strata import Layout


class ShiftNormal:
    """The normal distribution with the mean and variance of the null distribution."""

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        #: The variance of the statistic is a parabola in the shift.
        self.parabola = _variance_parabola(layout)

    def share_beyond(self, shift: Fraction) -> Fraction:
        """Return the share beyond, with ties taken into the variance."""
        layout, delta = self.layout, float(shift)
        slope = layout.new_count - layout.centre_j / layout.common
        seen = abs(float(layout.difference) - delta) * slope
        constant, linear, square = self.parabola
        variance = constant - linear * delta + square * delta * delta
        if seen == 0 or variance <= 0:
            return Fraction(1)
        return Fraction(math.erfc(seen / math.sqrt(2 * variance)))


def _variance_parabola(layout: Layout) -> tuple[float, float, float]:
    """Return a, b, c of the variance a - b shift + c shift^2, summed over the strata."""
    constant = linear = square = 0.0
    for old, new in layout.strata:
        n, n_new = len(old) + len(new), len(new)
        mean, share = (sum(old) + sum(new)) / n, n_new / n
        factor = n_new * len(old) / n / (n - 1)
        constant += factor * math.fsum((value - mean) ** 2 for value in (*old, *new))
        linear += 2 * factor * math.fsum((value - mean) * (1 - share) for value in new)
        linear -= 2 * factor * math.fsum((value - mean) * share for value in old)
        square += factor * (n_new * (1 - share) ** 2 + len(old) * share**2)
    return constant, linear, square
