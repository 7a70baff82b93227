"""The trials of a group prepared for the diagnosis: what is known of each, in units of the panel.

In: trial records, the panel, the direction of the outcome. Out: `TrialSet`, which says what kind of
evidence there is (positions, points, measures, misfires only) and holds each trial in units.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import isfinite, sqrt

from journal.analysis.diagnosis.causes import FREE_AMOUNT, MOST_AMOUNT
from journal.analysis.diagnosis.frame import Frame
from journal.analysis.records import TrialRecord, in_order
from journal.domain.outcomes import Direction, DirectionKind
from journal.domain.panels import Panel
from journal.domain.trials import Place

#: Squares that stand in for a panel without zones, from the inside: share of its half side, points.
#: On a panel of 600 mm their sides are 120, 240, 400 and 600 mm, as in the simulation.
PLAIN_ZONES = ((0.2, 8.0), (0.4, 4.0), (2 / 3, 2.0), (1.0, 1.0))
#: Amounts up to this are taken as they are (drops, bands); where a group has a larger one (mm, g),
#: all are scaled so that it becomes `MOST_AMOUNT`. Set by hand.
MOST_PLAIN_AMOUNT = 10.0
#: Measured distances are sorted into rings of this breadth, in units (15 mm on the panel).
RING_BREADTH = 0.15


class Evidence(StrEnum):
    """What is known of where trials ended."""

    POSITIONS = "positions"
    POINTS = "points"
    MEASURES = "measures"
    #: Nothing but how many misfired.
    MISFIRES = "misfires"


@dataclass(frozen=True, slots=True, kw_only=True)
class Zones:
    """Zones as squares about the aim point of equal area: half sides in mm with their points."""

    squares: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredTrial:
    """One trial that was no misfire."""

    student: str
    own_part: str
    load: float
    #: In units; None where it is not known, or beyond the panel.
    hit: tuple[float, float] | None
    beyond: bool
    #: Points, or the distance from the aim point in units.
    value: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialSet:
    """All trials of a group."""

    evidence: Evidence
    trials: tuple[MeasuredTrial, ...]
    count: int
    misfires: int
    #: Whether at least two loads differ.
    has_load: bool
    zones: Zones
    #: A load is an amount times this, less `FREE_AMOUNT`.
    load_scale: float


def plain_zones(frame: Frame) -> Zones:
    """Return four squares about the aim point of `frame`, worth 8, 4, 2 and 1."""
    half_mm = min(frame.right_mm - frame.left_mm, frame.top_mm - frame.bottom_mm) / 2
    return Zones(squares=tuple((share * half_mm, points) for share, points in PLAIN_ZONES))


def zones_of(panel: Panel) -> Zones:
    """Return the zones of a panel as squares that hold the same areas, most points inside."""
    step_mm = max(panel.width_mm, panel.height_mm) / 60
    areas: dict[float, float] = {}
    x_mm = panel.left_mm + step_mm / 2
    while x_mm < panel.right_mm:
        y_mm = panel.bottom_mm + step_mm / 2
        while y_mm < panel.top_mm:
            zone = panel.find_zone(x_mm, y_mm)
            points = panel.bare_points if zone is None else zone.points
            areas[points] = areas.get(points, 0.0) + step_mm * step_mm
            y_mm += step_mm
        x_mm += step_mm
    squares, inside = [], 0.0
    for points in sorted(areas, reverse=True):
        inside += areas[points]
        squares.append((sqrt(inside) / 2, points))
    return Zones(squares=tuple(squares))


def collect_trials(
    records: Iterable[TrialRecord], frame: Frame, direction: Direction, zones: Zones | None
) -> TrialSet:
    """Return the trials of a group in units of `frame`; `zones` None means `plain_zones`."""
    ordered = in_order(records)
    sound = [record for record in ordered if record.misfire is None]
    zones = plain_zones(frame) if zones is None else zones
    evidence = _evidence_of(sound, direction, zones)
    scale = _scale_of_amounts(ordered)
    measured = []
    for record in sound:
        amount = _finite(record.amount)
        trial = _read_trial(
            record,
            frame,
            evidence,
            0.0 if amount is None else max(0.0, amount * scale - FREE_AMOUNT),
        )
        if trial is not None:
            measured.append(trial)
    loads = {trial.load for trial in measured}
    return TrialSet(
        evidence=evidence if measured else Evidence.MISFIRES,
        trials=tuple(measured),
        count=len(ordered),
        misfires=len(ordered) - len(sound),
        has_load=len(loads) > 1,
        zones=zones,
        load_scale=scale,
    )


def _evidence_of(sound: Sequence[TrialRecord], direction: Direction, zones: Zones) -> Evidence:
    beyond = sum(record.place in {Place.WALL, Place.NOWHERE} for record in sound)
    if 2 * (sum(record.hit is not None for record in sound) + beyond) > len(sound) and (
        any(record.hit is not None for record in sound)
        or not any(record.measured is not None for record in sound)
    ):
        return Evidence.POSITIONS
    values = {value for record in sound if (value := record.measured) is not None}
    if direction.kind is DirectionKind.LESS and all(value >= 0 for value in values):
        return Evidence.MEASURES
    points = {points for _, points in zones.squares} | {0.0}
    if direction.kind is DirectionKind.MORE and values <= points:
        return Evidence.POINTS
    return Evidence.MISFIRES


def _scale_of_amounts(records: Sequence[TrialRecord]) -> float:
    most = max((_finite(record.amount) or 0.0 for record in records), default=0.0)
    return 1.0 if most <= MOST_PLAIN_AMOUNT else MOST_AMOUNT / most


def _finite(number: float | None) -> float | None:
    return None if number is None or not isfinite(number) else number


def _read_trial(
    record: TrialRecord, frame: Frame, evidence: Evidence, load: float
) -> MeasuredTrial | None:
    beyond = record.place in {Place.WALL, Place.NOWHERE}
    hit, value, unit = None, record.measured, frame.unit_mm
    if evidence is Evidence.POSITIONS:
        at = record.hit
        if at is not None and not beyond:
            within_x = frame.left_mm <= at[0] <= frame.right_mm
            beyond = not (within_x and frame.bottom_mm <= at[1] <= frame.top_mm)
            hit = None if beyond else (at[0] / unit, at[1] / unit)
        if hit is None and not beyond:
            return None
    elif evidence is Evidence.MEASURES:
        if value is not None and record.place is None:
            # Without a place, what lies as far as the nearest edge is "at least that far".
            edge_mm = min(-frame.left_mm, frame.right_mm, -frame.bottom_mm, frame.top_mm)
            beyond = value >= edge_mm
        value = None if value is None else value / unit
    elif evidence is Evidence.POINTS:
        beyond = beyond or (value == 0 and record.place is None)
    else:
        return None
    if evidence is not Evidence.POSITIONS and value is None and not beyond:
        return None
    return MeasuredTrial(
        student=record.student,
        own_part=record.own_part,
        load=round(2 * load) / 2,
        hit=hit,
        beyond=beyond,
        value=value,
    )
