"""The posterior: how probable each set of causes is, after the trials.

In: the set of trials, the frame of the panel. Out: probabilities of sets of causes, adding to 1.
"""

from __future__ import annotations

from collections.abc import Sequence

from journal.analysis.diagnosis.causes import (
    SLOPE,
    Cause,
    chance_of_misfires,
    chance_of_set,
    extras,
    spread_evenly,
)
from journal.analysis.diagnosis.cells import (
    CellFrame,
    CellWeigher,
    count_cells,
    offset_ring,
    usual_spot,
)
from journal.analysis.diagnosis.frame import Frame
from journal.analysis.diagnosis.hit_sums import sum_hits
from journal.analysis.diagnosis.hits import HitWeigher
from journal.analysis.diagnosis.spots import offset_spots, usual_spots
from journal.analysis.diagnosis.sums import PANEL_SETS, Carriers, Grids, Weigh, weigh_sets
from journal.analysis.diagnosis.trials import RING_BREADTH, Evidence, MeasuredTrial, TrialSet

#: Three quadrature points each for the slope of a load and for the extra variance of a device.
_SLOPES = spread_evenly(SLOPE, 3)
_EXTRAS = extras(3)


def find_posterior(trial_set: TrialSet, frame: Frame) -> dict[frozenset[Cause], float]:
    """Return the posterior probability of each set of causes; they add to 1.

    `trial_set` holds the trials in units of `frame`. The misfires and the hits are independent
    given the causes, so their likelihoods multiply.
    """
    units, carriers = _units_of(trial_set.trials)
    if trial_set.trials:
        weigh, grids = _weigher_of(trial_set, units, frame)
        likelihoods = weigh_sets(weigh, grids, carriers, load=trial_set.has_load)
    else:
        likelihoods = dict.fromkeys(_sets_without_load(), 1.0)
    exchanged = any(carrier.cause is Cause.OWN_PART for carrier in carriers)
    joint: dict[frozenset[Cause], float] = {}
    for mechanism in (False, True):
        misfires = chance_of_misfires(trial_set.misfires, trial_set.count, mechanism=mechanism)
        extra = frozenset({Cause.MECHANISM}) if mechanism else frozenset()
        for causes, likelihood in likelihoods.items():
            chance = chance_of_set(causes | extra, exchanged=exchanged)
            if chance:
                joint[causes | extra] = chance * misfires * likelihood
    total = sum(joint.values())
    if total <= 0:
        # So far from everything expected that nothing is left of any likelihood.
        return {causes: 1 / len(joint) for causes in joint}
    return {causes: chance / total for causes, chance in joint.items()}


def _sets_without_load() -> list[frozenset[Cause]]:
    """Return the sets of panel causes that are open when only misfires speak."""
    known = [causes for causes in PANEL_SETS if Cause.LOAD not in causes]
    return known + [causes | {Cause.USE} for causes in known if len(causes) < 2]  # noqa: PLR2004


def _units_of(
    trials: Sequence[MeasuredTrial],
) -> tuple[list[list[MeasuredTrial]], list[Carriers]]:
    """Return the trials by student, or by student and own part where these were exchanged."""
    parts = is_exchanged(trials)
    keys: dict[tuple[str, str], list[MeasuredTrial]] = {}
    for trial in trials:
        keys.setdefault((trial.student, trial.own_part if parts else ""), []).append(trial)
    names = list(keys)
    carriers = [Carriers(cause=Cause.USE, units=_numbers_by([student for student, _ in names]))]
    if parts:
        own = _numbers_by([own_part for _, own_part in names])
        carriers.append(Carriers(cause=Cause.OWN_PART, units=own))
    return list(keys.values()), carriers


def is_exchanged(trials: Sequence[MeasuredTrial]) -> bool:
    """Tell whether own parts changed hands in `trials`, so that they differ from students."""
    pairs = {(trial.student, trial.own_part) for trial in trials}
    students = {student for student, _ in pairs}
    own_parts = {own_part for _, own_part in pairs}
    named = "" not in students and "" not in own_parts
    return named and len(own_parts) > 1 and len(pairs) > max(len(students), len(own_parts))


def _numbers_by(labels: Sequence[str]) -> tuple[tuple[int, ...], ...]:
    numbers: dict[str, list[int]] = {}
    for number, label in enumerate(labels):
        numbers.setdefault(label, []).append(number)
    return tuple(tuple(own) for own in numbers.values())


def _weigher_of(
    trial_set: TrialSet, units: Sequence[Sequence[MeasuredTrial]], frame: Frame
) -> tuple[Weigh, Grids]:
    if trial_set.evidence is Evidence.POSITIONS:
        sums = [
            sum_hits(
                [(*trial.hit, trial.load) for trial in own if trial.hit is not None],
                [trial.load for trial in own if trial.beyond],
            )
            for own in units
        ]
        grids = Grids(usual=usual_spots(), offset=offset_spots(), slopes=_SLOPES, extras=_EXTRAS)
        return HitWeigher(sums, frame).weigh, grids
    cells = cell_frame_of(trial_set, frame)
    counts = [
        count_cells([(trial.load, cell_of(trial, trial_set, cells)) for trial in own])
        for own in units
    ]
    grids = Grids(usual=usual_spot(), offset=(offset_ring(), ()), slopes=_SLOPES, extras=_EXTRAS)
    return CellWeigher(counts, cells).weigh, grids


def cell_frame_of(trial_set: TrialSet, frame: Frame) -> CellFrame:
    """Return the panel of `frame`, in units, with the cells in which `trial_set` was recorded."""
    unit = frame.unit_mm
    left, right = frame.left_mm / unit, frame.right_mm / unit
    bottom, top = frame.bottom_mm / unit, frame.top_mm / unit
    if trial_set.evidence is Evidence.POINTS:
        # The last square is the panel itself: the rest of the panel is its cell.
        sizes = tuple(half_mm / unit for half_mm, _ in trial_set.zones.squares[:-1])
        return CellFrame(left, right, bottom, top, sizes, rings=False)
    farthest = max(map(abs, (left, right, bottom, top))) * 2**0.5
    sizes = tuple(RING_BREADTH * (at + 1) for at in range(int(farthest / RING_BREADTH)))
    return CellFrame(left, right, bottom, top, sizes, rings=True)


def cell_of(trial: MeasuredTrial, trial_set: TrialSet, cells: CellFrame) -> int:
    """Return the number of the cell in which a trial of `trial_set` ended."""
    if trial.beyond or trial.value is None:
        return cells.beyond
    if trial_set.evidence is Evidence.MEASURES:
        return cells.cell_of(trial.value)
    points = [zone_points for _, zone_points in trial_set.zones.squares]
    return points.index(trial.value) if trial.value in points else cells.beyond
