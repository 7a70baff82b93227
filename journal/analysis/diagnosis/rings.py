"""Densities about a ring: a spot at a distance drawn evenly, in any direction, with a blur.

In: variances and distances in units of the diagnosis. Out: tables of densities by distance.
"""

from __future__ import annotations

from functools import lru_cache
from math import exp, log, pi, sqrt

from journal.analysis.diagnosis.causes import PULL, spread_evenly

#: Columns of a table: distances in tenths of the unit, out to 8 units.
COLUMNS = 80
#: Step of the natural logarithm of the variance between two tables.
_LOG_STEP = 0.08


def find_ring_density(variance: float) -> tuple[float, ...]:
    """Return the density, per square unit, at 0, .1, .2 ... units from the middle of the ring.

    The ring is where a use that pulls gathers (`PULL`), blurred by `variance` in each axis.
    """
    return _density_of_row(round(log(variance) / _LOG_STEP))


@lru_cache(maxsize=256)
def _density_of_row(row: int) -> tuple[float, ...]:
    variance = exp(_LOG_STEP * row)
    middle = sum(PULL) / 2
    sizes = [
        (size, weight / 2)
        for ends in ((PULL[0], middle), (middle, PULL[1]))
        for size, weight in spread_evenly(ends, 3)
    ]
    return tuple(
        sum(
            weight
            * exp(-((at / 10 - size) ** 2) / (2 * variance))
            * scaled_bessel(at / 10 * size / variance)
            for size, weight in sizes
        )
        / (2 * pi * variance)
        for at in range(COLUMNS)
    )


def scaled_bessel(x: float) -> float:
    """Return exp(-x) I0(x) for x >= 0, to 2e-7.

    Abramowitz & Stegun, Handbook of Mathematical Functions, 1964, 9.8.1 and 9.8.2.
    """
    if x < 3.75:  # noqa: PLR2004 - where the two series meet
        t = (x / 3.75) ** 2
        series = 1 + t * (
            3.5156229
            + t * (3.0899424 + t * (1.2067492 + t * (0.2659732 + t * (0.0360768 + t * 0.0045813))))
        )
        return series * exp(-x)
    t = 3.75 / x
    series = 0.39894228 + t * (
        0.01328592
        + t
        * (
            0.00225319
            + t
            * (
                -0.00157565
                + t
                * (
                    0.00916281
                    + t * (-0.02057706 + t * (0.02635537 + t * (-0.01647633 + t * 0.00392377)))
                )
            )
        )
    )
    return series / sqrt(x)
