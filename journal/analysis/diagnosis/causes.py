"""The priors of the diagnosis: which causes there are, how often each is expected, and how large.

In: nothing. Out: the causes, their prior probabilities, and the sizes that each can have.

Lengths are in units of 100 mm on a panel of 600 mm; a panel of another size scales them. None of
these priors was measured in a class: they were set by hand to what such a panel can show, and
checked on simulated groups (tests/simulation/RESULTS.md). The simulation's own world draws its
groups from the same sizes (tests/simulation/worlds.py), so a change here needs the same change
there and a new report.
"""

from __future__ import annotations

from enum import StrEnum
from itertools import combinations

#: The unit of length, in mm, on a panel whose shorter side is `PANEL_MM`.
UNIT_MM = 100.0
PANEL_MM = 600.0


class Cause(StrEnum):
    """What may lie behind poor results at a panel."""

    DEVICE_OFFSET = "device_offset"
    DEVICE_SCATTER = "device_scatter"
    #: One or two members only.
    USE_SOME = "use_some"
    #: All of them, less and less with practice.
    USE_ALL_FADING = "use_all_fading"
    #: All of them, and practice does not help.
    USE_ALL_STEADY = "use_all_steady"
    LOAD = "load"
    MECHANISM = "mechanism"
    #: A student's own part that is poor whoever uses it: separable from use only after an exchange.
    OWN_PART = "own_part"


USES = frozenset({Cause.USE_SOME, Cause.USE_ALL_FADING, Cause.USE_ALL_STEADY})
#: Prior probability of no cause, and of each cause alone; they add to `1 - PAIRS`.
PAIRS = 1 / 8
_ALONE = {
    frozenset[Cause](): 0.25,
    frozenset({Cause.DEVICE_OFFSET}): 0.14,
    frozenset({Cause.DEVICE_SCATTER}): 0.08,
    frozenset({Cause.LOAD}): 0.06,
    frozenset({Cause.MECHANISM}): 0.06,
    frozenset({Cause.OWN_PART}): 0.05,
    frozenset({Cause.USE_SOME}): 0.12,
    frozenset({Cause.USE_ALL_FADING}): 0.14,
    frozenset({Cause.USE_ALL_STEADY}): 0.10,
}
#: The pairs that are modelled, equally likely: a poor mechanism with any other cause but an own
#: part; the device's offset or scatter with each other, with a load, and with a use that does not
#: fade; a use of some with a steady use of all.
MODELLED_PAIRS = tuple(
    frozenset({Cause.MECHANISM, cause})
    for cause in Cause
    if cause not in {Cause.MECHANISM, Cause.OWN_PART}
) + tuple(
    frozenset(pair)
    for pair in combinations(
        (
            Cause.DEVICE_OFFSET,
            Cause.DEVICE_SCATTER,
            Cause.LOAD,
            Cause.USE_SOME,
            Cause.USE_ALL_STEADY,
        ),
        2,
    )
    if not (Cause.LOAD in pair and set(pair) & USES)
)

#: A student's standard deviation in each axis is log-normal: its median (90 mm on the panel), and
#: the standard deviation of its natural logarithm.
SCATTER, LOG_SCATTER_SD = 0.9, 0.25
#: Prior standard deviation in each axis of a member's own centre (25 mm on the panel), of a
#: guest's, who uses a strange device, and of the centre of a device with nothing wrong.
PULL_SD, GUEST_PULL_SD, DEVICE_SD = 0.25, 0.30, 0.2
#: A device that misses the same way, or a use that all share: how far, uniform between these ends
#: (120-260 mm on the panel), and the share that misses low, within 45 degrees of straight down;
#: the others miss in any direction.
OFFSET = (1.2, 2.6)
LOW_SHARE = 0.7
#: The standard deviation that a scattering device adds to everybody's in each axis, in quadrature;
#: uniform between these ends (110-200 mm on the panel).
EXTRA = (1.1, 2.0)
#: Poor use of some is one of two, equally likely: a scatter this many times the member's own, or a
#: centre this far off in any direction (120-220 mm on the panel); both uniform between their ends.
WIDER = (2.2, 3.5)
PULL = (1.2, 2.2)
#: A load lowers each hit by this much per unit of the amount above `FREE_AMOUNT`, uniform between
#: these ends (15-40 mm a unit on the panel). The first two units cost nothing.
SLOPE = (0.15, 0.40)
FREE_AMOUNT = 2.0
#: The largest amount that these slopes are meant for: `trials.py` scales larger amounts down to it.
MOST_AMOUNT = 8.0
#: For the spread of one student told by cells: the share of trials that go astray for no lasting
#: reason, and their standard deviation in each axis about the aim point (300 mm on the panel).
STRAY = 0.02
STRAY_SD = 3.0
#: The probability that a trial misfires: with a sound mechanism, and with a poor one (uniform
#: between these ends).
FEW_MISFIRES = 0.03
MANY_MISFIRES = (0.25, 0.50)
#: A use that fades: how much of it is left after `u` own launches of each member, two shapes
#: equally likely: exp(-u / `FADING_LAUNCHES`) and (1 + u) ** -`FADING_POWER`.
FADING_LAUNCHES, FADING_POWER = 3.0, 0.75
#: What fades: (probability, whether an offset, how much wider the scatter is at first).
FADING_KINDS = ((0.5, True, 0.0), (0.3, True, 0.8), (0.2, False, 1.5))
#: The noise of a group is one of three families: normal, t with three degrees of freedom at the
#: same scale (heavy tails), the same at the normal's standard deviation (calm, with tails).
NORMAL, HEAVY, CALM = 0.5, 0.25, 0.25
#: An older revision, where the newest is poor: it has the same fault, is sound, or has one of its
#: own; where the newest is sound: it was poor.
OLDER_SAME, OLDER_SOUND, OLDER_OTHER = 0.5, 0.35, 0.15
OLDER_POOR = 0.15


def chances_of_sets(*, has_load: bool, exchanged: bool) -> dict[frozenset[Cause], float]:
    """Return the prior probability of each set of causes that is open; they add to 1.

    `has_load` says whether amounts differ; `exchanged` whether own parts changed hands. Without an
    exchange a poor own part and a poor use of some are one finding: the use has both priors.
    """
    alone = dict(_ALONE)
    if not exchanged:
        alone[frozenset({Cause.USE_SOME})] += alone.pop(frozenset({Cause.OWN_PART}))
    pairs = list(MODELLED_PAIRS)
    if not has_load:
        del alone[frozenset({Cause.LOAD})]
        pairs = [pair for pair in pairs if Cause.LOAD not in pair]
    whole = sum(alone.values())
    return {
        causes: (1 - PAIRS) * chance / whole for causes, chance in alone.items()
    } | dict.fromkeys(pairs, PAIRS / len(pairs))


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
