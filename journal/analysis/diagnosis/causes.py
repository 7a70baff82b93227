"""What the diagnosis believes before it sees a trial: causes, how often, how large.

In: nothing. Out: the causes, and the sizes of each as a few points with weights. All sizes are
invented, set to what a panel of 600 mm can show; a panel of another size scales them.
Lengths in units of 100 mm on that panel.
"""

from __future__ import annotations

from enum import StrEnum
from math import exp, pi

#: The unit of length in here, on a panel of `PANEL_MM`.
UNIT_MM = 100.0
PANEL_MM = 600.0


class Cause(StrEnum):
    """What may lie behind poor results at a panel."""

    DEVICE_OFFSET = "device_offset"
    DEVICE_SCATTER = "device_scatter"
    USE = "use"
    LOAD = "load"
    MECHANISM = "mechanism"
    #: A student's own part that is poor whoever uses it: told from use only where it was exchanged.
    OWN_PART = "own_part"


#: Nothing, each cause alone, any two.
NOTHING, SINGLE, PAIR = 1 / 4, 1 / 8, 1 / 80
#: A student's scatter: log-normal about this, in each axis.
SCATTER, LOG_SCATTER_SD = 0.9, 0.25
#: Variance of where a student gathers, and of where a device gathers with nothing wrong, an axis.
STUDENT_PULL = 0.25**2
DEVICE_PULL = 0.2**2
#: A device that misses the same way: this far, mostly low within 45 degrees.
OFFSET = (1.2, 2.6)
LOW_SHARE = 0.7
#: A device that scatters adds this much, root of squares.
EXTRA = (1.1, 2.0)
#: A use that scatters is this many times as wide; one that pulls gathers this far off.
WIDER = (2.2, 3.5)
PULL = (1.2, 2.2)
#: A load lowers by this much for each unit of the amount above `FREE_AMOUNT`.
SLOPE = (0.15, 0.40)
FREE_AMOUNT = 2.0
#: The largest amount these slopes are meant for.
MOST_AMOUNT = 8.0
#: One trial in so many goes astray for no reason that lasts, and may then land anywhere about.
STRAY = 0.02
STRAY_SD = 3.0
#: Misfires with a sound mechanism, and with one that is not.
FEW_MISFIRES = 0.03
MANY_MISFIRES = (0.25, 0.50)

Weighted = tuple[tuple[float, float], ...]

#: Abramowitz & Stegun, table 25.4 (Gauss-Legendre) and 25.10 (Gauss-Hermite, for a standard
#: normal variable); the values were computed, not copied.
_EVEN = {
    2: ((-0.5773502691896257, 0.5), (0.5773502691896257, 0.5)),
    3: ((-0.7745966692414834, 5 / 18), (0.0, 8 / 18), (0.7745966692414834, 5 / 18)),
}
_BELL = {
    2: ((-1.0, 0.5), (1.0, 0.5)),
    3: ((-1.7320508075688772, 1 / 6), (0.0, 2 / 3), (1.7320508075688772, 1 / 6)),
    4: (
        (-2.3344142183389773, 0.04587585476806849),
        (-0.7419637843027258, 0.45412414523193150),
        (0.7419637843027258, 0.45412414523193150),
        (2.3344142183389773, 0.04587585476806849),
    ),
}


def spread_evenly(ends: tuple[float, float], points: int) -> Weighted:
    """Return points and weights for a size that is equally likely between two ends."""
    middle, half = (ends[0] + ends[1]) / 2, (ends[1] - ends[0]) / 2
    return tuple((middle + half * at, weight) for at, weight in _EVEN[points])


def spread_normally(variance: float, points: int) -> Weighted:
    """Return points and weights for a normal variable about 0."""
    return tuple((variance**0.5 * at, weight) for at, weight in _BELL[points])


def scatters(points: int) -> Weighted:
    """Return variances of a student's scatter, with weights."""
    return tuple(
        ((SCATTER * exp(LOG_SCATTER_SD * at)) ** 2, weight) for at, weight in _BELL[points]
    )


def wide_scatters(points: int) -> Weighted:
    """Return variances of the scatter of a use that scatters, with weights."""
    # The product of both sizes is taken as log-normal with the mean and variance of its logarithm.
    log_variance = ((WIDER[1] - WIDER[0]) / (WIDER[1] + WIDER[0])) ** 2 / 3
    middle = (WIDER[0] + WIDER[1]) / 2 * (1 - log_variance / 2)
    log_sd = (LOG_SCATTER_SD**2 + log_variance) ** 0.5
    return tuple(
        ((SCATTER * middle * exp(log_sd * at)) ** 2, weight) for at, weight in _BELL[points]
    )


def extras(points: int) -> Weighted:
    """Return variances that a scattering device adds, with weights."""
    return tuple((size * size, weight) for size, weight in spread_evenly(EXTRA, points))


def chance_of_misfires(count: int, n: int, *, mechanism: bool) -> float:
    """Return how likely one order of `count` misfires in `n` trials is."""
    if not mechanism:
        return FEW_MISFIRES**count * (1 - FEW_MISFIRES) ** (n - count)
    # Even in small steps: the integrand is a smooth polynomial.
    steps = 24
    low, high = MANY_MISFIRES
    rates = [low + (high - low) * (step + 0.5) / steps for step in range(steps)]
    return sum(rate**count * (1 - rate) ** (n - count) for rate in rates) / steps


def direction_density(angle: float) -> float:
    """Return the density of the direction of an offset, by radian; 0 is right, pi/2 up."""
    turn = (angle + pi / 2 + pi) % (2 * pi) - pi
    low = LOW_SHARE / (pi / 2) if abs(turn) <= pi / 4 else 0.0
    return low + (1 - LOW_SHARE) / (2 * pi)


def chance_of_set(causes: frozenset[Cause], *, exchanged: bool) -> float:
    """Return how often a set of causes is expected; 0 for more than two.

    Where own parts were exchanged, a poor own part and a poor use share the chance of use.
    """
    chance = {0: NOTHING, 1: SINGLE, 2: PAIR}.get(len(causes), 0.0)
    if {Cause.USE, Cause.OWN_PART} <= causes:
        return 0.0
    if exchanged:
        return chance / 2 if causes & {Cause.USE, Cause.OWN_PART} else chance
    return 0.0 if Cause.OWN_PART in causes else chance
