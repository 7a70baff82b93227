"""The priors of the diagnosis: which causes there are, how often each is expected, and how large.

In: nothing. Out: the causes, and the prior of each size as quadrature points with weights.

Lengths are in units of 100 mm on a panel of 600 mm; a panel of another size scales them. None of
these priors was measured in a class: they were set by hand to what such a panel can show, and
checked on simulated groups (seeds 1000-1999, see tests/simulation/RESULTS.md). The simulation
draws its groups from the same sizes (tests/simulation/classrooms.py), so a change here needs the
same change there and a new report.
"""

from __future__ import annotations

from enum import StrEnum
from math import exp, pi

#: The unit of length, in mm, on a panel whose shorter side is `PANEL_MM`.
UNIT_MM = 100.0
PANEL_MM = 600.0


class Cause(StrEnum):
    """What may lie behind poor results at a panel."""

    DEVICE_OFFSET = "device_offset"
    DEVICE_SCATTER = "device_scatter"
    USE = "use"
    LOAD = "load"
    MECHANISM = "mechanism"
    #: A student's own part that is poor whoever uses it: separable from use only after an exchange.
    OWN_PART = "own_part"


#: Prior probability of a set of causes: of the empty set, of each of the five causes alone, and of
#: each of the ten pairs (1/4 + 5/8 + 10/80 = 1). Three causes at once are left out.
NOTHING, SINGLE, PAIR = 1 / 4, 1 / 8, 1 / 80
#: A student's standard deviation in each axis is log-normal: its median (90 mm on the panel), and
#: the standard deviation of its natural logarithm.
SCATTER, LOG_SCATTER_SD = 0.9, 0.25
#: Prior variance in each axis of a student's own centre (sd 25 mm on the panel), and of the centre
#: of a device with nothing wrong (sd 20 mm).
STUDENT_PULL = 0.25**2
DEVICE_PULL = 0.2**2
#: A device that misses the same way: how far, uniform between these ends (120-260 mm on the panel),
#: and the share of such devices that miss low, within 45 degrees of straight down; the others miss
#: in any direction.
OFFSET = (1.2, 2.6)
LOW_SHARE = 0.7
#: The standard deviation that a scattering device adds to everybody's in each axis, in quadrature;
#: uniform between these ends (110-200 mm on the panel).
EXTRA = (1.1, 2.0)
#: Poor use is one of two, equally likely: a scatter this many times the student's own, or a centre
#: this far off in any direction (120-220 mm on the panel); both uniform between their ends.
WIDER = (2.2, 3.5)
PULL = (1.2, 2.2)
#: A load lowers each hit by this much per unit of the amount above `FREE_AMOUNT`, uniform between
#: these ends (15-40 mm a unit on the panel). The first two units cost nothing.
SLOPE = (0.15, 0.40)
FREE_AMOUNT = 2.0
#: The largest amount that these slopes are meant for: `trials.py` scales larger amounts down to it.
MOST_AMOUNT = 8.0
#: The share of trials that go astray for no lasting reason, and their standard deviation in each
#: axis about the aim point (300 mm on the panel).
STRAY = 0.02
STRAY_SD = 3.0
#: The probability that a trial misfires: with a sound mechanism, and with a poor one (uniform
#: between these ends).
FEW_MISFIRES = 0.03
MANY_MISFIRES = (0.25, 0.50)

#: Quadrature: points with weights that add to 1.
Weighted = tuple[tuple[float, float], ...]

#: Gauss-Legendre points for a variable that is uniform on -1..1, by number of points. Abramowitz &
#: Stegun, Handbook of Mathematical Functions, 1964, table 25.4; the values were computed.
_EVEN = {
    2: ((-0.5773502691896257, 0.5), (0.5773502691896257, 0.5)),
    3: ((-0.7745966692414834, 5 / 18), (0.0, 8 / 18), (0.7745966692414834, 5 / 18)),
}
#: Gauss-Hermite points for a standard normal variable, by number of points: the points of table
#: 25.10 there, times the root of 2. The values were computed.
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
    """Return quadrature points for a size that is uniform between two ends.

    `points` is 2 or 3: exact for polynomials up to degree 3 or 5.
    """
    middle, half = (ends[0] + ends[1]) / 2, (ends[1] - ends[0]) / 2
    return tuple((middle + half * at, weight) for at, weight in _EVEN[points])


def spread_normally(variance: float, points: int) -> Weighted:
    """Return quadrature points for a normal variable about 0 with this `variance`.

    `points` is 2, 3 or 4.
    """
    return tuple((variance**0.5 * at, weight) for at, weight in _BELL[points])


def scatters(points: int) -> Weighted:
    """Return the variances of a student's scatter in each axis, in square units, with weights.

    `points` is 2, 3 or 4.
    """
    return tuple(
        ((SCATTER * exp(LOG_SCATTER_SD * at)) ** 2, weight) for at, weight in _BELL[points]
    )


def wide_scatters(points: int) -> Weighted:
    """Return the variances of the scatter under a use that scatters, in square units, with weights.

    `points` is 2, 3 or 4.
    """
    # The student's own scatter times the factor `WIDER` is approximated by a log-normal. To second
    # order, the logarithm of a factor uniform on a..b has variance ((b - a) / (b + a))^2 / 3 and
    # lies half of that below the logarithm of the middle.
    log_variance = ((WIDER[1] - WIDER[0]) / (WIDER[1] + WIDER[0])) ** 2 / 3
    middle = (WIDER[0] + WIDER[1]) / 2 * (1 - log_variance / 2)
    log_sd = (LOG_SCATTER_SD**2 + log_variance) ** 0.5
    return tuple(
        ((SCATTER * middle * exp(log_sd * at)) ** 2, weight) for at, weight in _BELL[points]
    )


def extras(points: int) -> Weighted:
    """Return the variances, in square units, that a scattering device adds, with weights.

    `points` is 2 or 3.
    """
    return tuple((size * size, weight) for size, weight in spread_evenly(EXTRA, points))


def chance_of_misfires(count: int, n: int, *, mechanism: bool) -> float:
    """Return the probability of one given order of `count` misfires in `n` trials.

    `mechanism` says whether the mechanism is taken to be poor.
    """
    if not mechanism:
        return FEW_MISFIRES**count * (1 - FEW_MISFIRES) ** (n - count)
    # The midpoint rule: the integrand is a smooth polynomial, so 24 steps are plenty.
    steps = 24
    low, high = MANY_MISFIRES
    rates = [low + (high - low) * (step + 0.5) / steps for step in range(steps)]
    return sum(rate**count * (1 - rate) ** (n - count) for rate in rates) / steps


def direction_density(angle: float) -> float:
    """Return the prior density, per radian, of an offset in the direction `angle`.

    Radians: 0 is right, pi/2 up.
    """
    turn = (angle + pi / 2 + pi) % (2 * pi) - pi
    low = LOW_SHARE / (pi / 2) if abs(turn) <= pi / 4 else 0.0
    return low + (1 - LOW_SHARE) / (2 * pi)


def chance_of_set(causes: frozenset[Cause], *, exchanged: bool) -> float:
    """Return the prior probability of a set of causes; 0 for more than two.

    `exchanged` says whether own parts changed hands. Then a poor own part and a poor use share the
    probability of use; else the own part stands for nothing of its own.
    """
    chance = {0: NOTHING, 1: SINGLE, 2: PAIR}.get(len(causes), 0.0)
    if {Cause.USE, Cause.OWN_PART} <= causes:
        return 0.0
    if exchanged:
        return chance / 2 if causes & {Cause.USE, Cause.OWN_PART} else chance
    return 0.0 if Cause.OWN_PART in causes else chance
