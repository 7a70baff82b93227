"""Does the level still rise? One slope over the last trials, each child beside itself.

In: trials in order, each with its merit (higher is better) and its cell: child, distance, panel and
session. Out: `Trend`, at the last look that was reached: the slope within cells in units of the
scatter, and whether level and scatter stand still.

Children of unlike skill take turns, one is absent, the distance changes: so only trials of one cell
are set beside each other. A look after every trial would call each group sooner or later, so there
are few. Set on drawn groups (tests/simulation/STALLS.md): their rises are small, .05 to .09 of the
scatter a trial, and any rule that calls half of those who stand still by trial 14 calls some of
those who rise.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from math import fsum, isfinite, sqrt

#: Trials at the first look, and between one look and the next.
FIRST_LOOK = 14
NEXT_LOOK = 12
#: Where most trials so far had the worst result there was, the first look comes later by so many.
FLOOR_WAIT = 8
FLOOR_SHARE = 0.75
#: Trials looked at from the second look on.
WINDOW = 18
#: The level is flat below this many standard errors of the slope.
BOUND = 0.08
#: A scatter that fell to less than this share from the first half to the second is progress.
SHRUNK = 0.52


@dataclass(frozen=True, slots=True)
class CourseTrial:
    """One trial with a value."""

    merit: float
    cell: Hashable


@dataclass(frozen=True, slots=True, kw_only=True)
class Trend:
    """The level over the last trials, at the last look."""

    #: Trials up to that look, and how many of them were looked at.
    look: int
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
        return self.slope <= self.bound and steady


def find_look(merits: Sequence[float]) -> int | None:
    """Return at how many of the trials with `merits` the last look was; None before the first."""
    count = len(merits)
    if count < FIRST_LOOK:
        return None
    first = FIRST_LOOK
    if _is_near_floor(merits[:FIRST_LOOK]):
        first += FLOOR_WAIT
    if count < first:
        return None
    return first + (count - first) // NEXT_LOOK * NEXT_LOOK


def find_trend(trials: Sequence[CourseTrial]) -> Trend | None:
    """Return the trend of `trials`, in order, at the last look; None before the first one."""
    look = find_look([trial.merit for trial in trials])
    if look is None:
        return None
    seen = trials[:look]
    if look > FIRST_LOOK + FLOOR_WAIT:
        seen = seen[-WINDOW:]
    places, merits = _within_cells(seen)
    breadth = fsum(place * place for place in places)
    largest = max(abs(trial.merit) for trial in seen)
    cells = len({trial.cell for trial in seen})
    if not breadth:
        slope, left, freedom = 0.0, merits, 1
    else:
        product = fsum(place * merit for place, merit in zip(places, merits, strict=True))
        slope = product / breadth
        left = [merit - slope * place for place, merit in zip(places, merits, strict=True)]
        freedom = max(1, len(seen) - cells - 1)
    scatter = sqrt(fsum(rest * rest for rest in left) / freedom)
    return Trend(
        look=look,
        trials=len(seen),
        slope=_in_units_of(slope, scatter, largest),
        bound=BOUND / sqrt(breadth) if breadth else 0.0,
        # Misses alone have no scatter, and that is no progress.
        scatter_ratio=None
        if _is_near_floor([trial.merit for trial in seen])
        else _ratio_of_halves(left),
    )


def _is_near_floor(merits: Sequence[float]) -> bool:
    worst = min(merits)
    at_floor = sum(merit == worst for merit in merits)
    return max(merits) > worst and at_floor > FLOOR_SHARE * len(merits)


def _within_cells(trials: Sequence[CourseTrial]) -> tuple[list[float], list[float]]:
    """Return place and merit of each trial about the means of its cell."""
    members: dict[Hashable, list[int]] = defaultdict(list)
    for place, trial in enumerate(trials):
        members[trial.cell].append(place)
    places, merits = [0.0] * len(trials), [0.0] * len(trials)
    for own in members.values():
        middle = fsum(own) / len(own)
        level = fsum(trials[place].merit / len(own) for place in own)
        for place in own:
            places[place] = place - middle
            merits[place] = trials[place].merit - level
    return places, merits


def _in_units_of(slope: float, scatter: float, size: float) -> float:
    # What is left by rounding is no scatter and no slope.
    least = 1e-9 * size
    if scatter > least:
        ratio = slope / scatter
        return ratio if isfinite(ratio) else 0.0
    if abs(slope) <= least:
        return -1.0
    return 1.0 if slope > 0 else -1.0


def _ratio_of_halves(left: Sequence[float]) -> float | None:
    half = len(left) // 2
    first, second = (_mean_square(part) for part in (left[: len(left) - half], left[-half:]))
    return None if first == 0 else sqrt(second / first)


def _mean_square(values: Sequence[float]) -> float:
    return fsum(value * value for value in values) / len(values)
