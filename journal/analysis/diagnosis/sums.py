"""Integrals over what students share: the likelihood of each set of panel causes.

In: a function that gives each student's likelihood for a device that gathers at a spot, with a
slope and an extra scatter, under good and under poor use. Out: one likelihood a set.
Given what is shared, students are independent: their likelihoods multiply.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from journal.analysis.diagnosis.causes import Cause

#: Where the device gathers: x, y, weight.
Spot = tuple[float, float, float]
#: Each student's likelihoods: under good use, and under poor use where asked for.
Likelihoods = Sequence[tuple[float, float]]
#: spots, slope, extra variance, whether poor use is asked for -> likelihoods, spot by spot.
Weigh = Callable[[Sequence[Spot], float, float, bool], Iterable[Likelihoods]]

#: Step of the fine grid in units (40 mm on the panel); the coarse one has every second of its rows
#: and columns. Twice the standard deviation of `DEVICE_PULL`, by which neighbours overlap.
GRID_STEP = 0.4
#: The fine grid is used only around coarse spots with at least this share of the best one's weight.
LEAST_COARSE_SHARE = 1e-3

#: The one quadrature point of a slope or an extra scatter that is not there.
_NOTHING = ((0.0, 1.0),)

#: Sets of causes that show in where hits lie, without use; use joins those of fewer than two.
PANEL_SETS: tuple[frozenset[Cause], ...] = (
    frozenset(),
    frozenset({Cause.DEVICE_OFFSET}),
    frozenset({Cause.DEVICE_SCATTER}),
    frozenset({Cause.LOAD}),
    frozenset({Cause.DEVICE_OFFSET, Cause.DEVICE_SCATTER}),
    frozenset({Cause.DEVICE_OFFSET, Cause.LOAD}),
    frozenset({Cause.DEVICE_SCATTER, Cause.LOAD}),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Carriers:
    """Who may carry a poor use, and what: numbers of units that stand and fall together."""

    cause: Cause
    #: For each student, or own part, the numbers of its units.
    units: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Grids:
    """The points at which the integral is taken."""

    usual: Sequence[Spot]
    #: Where a device with an offset gathers, the coarse grid first; spots of the fine one are
    #: weighed only near coarse ones that matter. The fine one may be empty.
    offset: tuple[Sequence[Spot], Sequence[Spot]]
    slopes: Sequence[tuple[float, float]]
    extras: Sequence[tuple[float, float]]


def multiply(units: Likelihoods, carriers: Sequence[Carriers]) -> list[float]:
    """Return the likelihood of all units: all of good use first, then poor ones by carriers.

    One or two carriers are equally likely, and so is each one and each pair.
    """
    all_good = 1.0
    for good, _ in units:
        all_good *= good
    return [all_good, *(_some_poor(units, carrier.units) for carrier in carriers)]


def _some_poor(units: Likelihoods, groups: Sequence[Sequence[int]]) -> float:
    no_poor, one_poor, two_poor = 1.0, 0.0, 0.0
    for group in groups:
        good, poor = units[group[0]]
        for unit in group[1:]:
            good *= units[unit][0]
            poor *= units[unit][1]
        two_poor = two_poor * good + one_poor * poor
        one_poor = one_poor * good + no_poor * poor
        no_poor *= good
    size = len(groups)
    if size < 2:  # noqa: PLR2004 - there is no pair
        return one_poor
    return (one_poor / size + two_poor / (size * (size - 1) / 2)) / 2


def weigh_sets(
    weigh: Weigh, grids: Grids, carriers: Sequence[Carriers], *, load: bool
) -> dict[frozenset[Cause], float]:
    """Return the likelihood of each set of panel causes, use included.

    `weigh` gives the likelihoods of all units at some spots, `grids` the points of the integral,
    and `carriers` who may carry a poor use or own part. `load` says whether amounts differ, so that
    a load could show at all.
    """
    found: dict[frozenset[Cause], float] = {}
    for causes in PANEL_SETS:
        if Cause.LOAD in causes and not load:
            continue
        # At most two causes at once.
        asked = carriers if len(causes) < 2 else ()  # noqa: PLR2004
        totals = [0.0] * (1 + len(asked))
        for slope, slope_weight in grids.slopes if Cause.LOAD in causes else _NOTHING:
            for extra, extra_weight in grids.extras if Cause.DEVICE_SCATTER in causes else _NOTHING:
                if Cause.DEVICE_OFFSET in causes:
                    sums = _weigh_offset(weigh, grids.offset, slope, extra, asked)
                else:
                    sums = _weigh_spots(weigh, grids.usual, slope, extra, asked)
                for at, column in enumerate(zip(*sums, strict=True)):
                    totals[at] += slope_weight * extra_weight * sum(column)
        found[causes] = totals[0]
        for carrier, total in zip(asked, totals[1:], strict=True):
            found[causes | {carrier.cause}] = total
    return found


def _weigh_spots(
    weigh: Weigh, spots: Sequence[Spot], slope: float, extra: float, asked: Sequence[Carriers]
) -> list[list[float]]:
    """Return the weighted likelihoods of each spot."""
    return [
        [spot[2] * chance for chance in multiply(each, asked)]
        for spot, each in zip(spots, weigh(spots, slope, extra, bool(asked)), strict=True)
    ]


def _weigh_offset(
    weigh: Weigh,
    grids: tuple[Sequence[Spot], Sequence[Spot]],
    slope: float,
    extra: float,
    asked: Sequence[Carriers],
) -> list[list[float]]:
    coarse, fine = grids
    sums = _weigh_spots(weigh, coarse, slope, extra, asked)
    if extra or not fine:
        return sums
    least = [LEAST_COARSE_SHARE * max(column) for column in zip(*sums, strict=True)]
    worth = {
        _place_of(spot)
        for spot, chances in zip(coarse, sums, strict=True)
        if any(chance > bound for chance, bound in zip(chances, least, strict=True))
    }
    near = {(x + dx, y + dy) for x, y in worth for dx in (-1, 0, 1) for dy in (-1, 0, 1)}
    kept = [spot for spot in fine if _place_of(spot) in near]
    return _weigh_spots(weigh, kept, slope, extra, asked) if kept else sums


def _place_of(spot: Spot) -> tuple[int, int]:
    return round(spot[0] / GRID_STEP), round(spot[1] / GRID_STEP)
