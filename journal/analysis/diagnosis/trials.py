"""The trials of a group prepared for the diagnosis: what is known of each, in units of the panel.

In: trial records, the panel, the direction of the outcome. Out: `TrialSet`, which says what kind of
evidence there is (positions, points, measures, misfires only) and holds each trial in units.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import isfinite, sqrt
from typing import Any

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
#: Measured distances are sorted into rings of this breadth, in units (30 mm on the panel).
RING_BREADTH = 0.3
#: Only so many of the newest trials enter: with more nothing becomes clearer, only slower.
MOST_TRIALS = 120
#: A miss grows with the distance, within these bounds (set by hand).
DISTANCE_RATIOS = (0.5, 2.0)


class Evidence(StrEnum):
    """What is known of where trials ended."""

    POSITIONS = "positions"
    POINTS = "points"
    MEASURES = "measures"
    #: Nothing but how many misfired.
    MISFIRES = "misfires"


class Device(StrEnum):
    """Whose device was launched, and whether it is the one in question."""

    NEWEST = "newest"
    OLDER = "older"
    OTHER_GROUP = "other_group"


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
    guest: bool = False
    device: Device = Device.NEWEST
    #: The revision, or the other group whose device it was.
    device_name: str = ""
    #: "" where it is the handling of the newest trial.
    other_handling: str = ""
    #: The distance as a multiple of the newest trial's.
    distance_ratio: float = 1.0
    #: Own launches of the group before this one, for each member.
    practice: float = 0.0


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
    #: Trials with the newest revision of the own device, guests' too, and misfires among them.
    newest_count: int = 0
    newest_misfires: int = 0

    @property
    def contrast_count(self) -> int:
        """Return how many launches set device and use apart: by guests, or with another device."""
        return sum(trial.guest or trial.device is Device.OTHER_GROUP for trial in self.trials)

    @property
    def is_exchanged(self) -> bool:
        """Tell whether own parts changed hands, so that they differ from students."""
        pairs = {(trial.student, trial.own_part) for trial in self.trials}
        students = {student for student, _ in pairs}
        own_parts = {own_part for _, own_part in pairs}
        named = "" not in students and "" not in own_parts
        return named and len(own_parts) > 1 and len(pairs) > max(len(students), len(own_parts))


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
    records: Iterable[TrialRecord],
    frame: Frame,
    direction: Direction,
    zones: Zones | None,
    newest: str = "",
) -> TrialSet:
    """Return the trials of a group in units of `frame`; `zones` None means `plain_zones`.

    `newest` is the revision in question; "" stands for the last one to come up.
    """
    ordered = in_order(records)
    own = [record for record in ordered if not record.guest and not record.owner]
    zones = plain_zones(frame) if zones is None else zones
    evidence = _evidence_of([r for r in ordered if r.misfire is None], direction, zones)
    scale = _scale_of_amounts(ordered)
    newest = newest or _find_newest(own or [record for record in ordered if not record.owner])
    lessons = _Lessons(ordered, newest)
    measured = [
        trial
        for at, record in list(enumerate(ordered))[-MOST_TRIALS:]
        if record.misfire is None
        and (trial := _read_trial(record, frame, evidence, lessons, at, scale, zones)) is not None
    ]
    at_newest = [r for r in ordered if not r.owner and r.revision == newest]
    return TrialSet(
        evidence=evidence if measured else Evidence.MISFIRES,
        trials=tuple(measured),
        count=len(own),
        misfires=sum(record.misfire is not None for record in own),
        has_load=len({trial.load for trial in measured}) > 1,
        zones=zones,
        load_scale=scale,
        newest_count=len(at_newest),
        newest_misfires=sum(record.misfire is not None for record in at_newest),
    )


def _find_newest(own: Sequence[TrialRecord]) -> str:
    """Return the revision in question: the last one to come up, though old ones may follow it."""
    revisions = list(dict.fromkeys(record.revision for record in own))
    return revisions[-1] if revisions else ""


class _Lessons:
    """What is known of a trial from its place among the others."""

    def __init__(self, ordered: Sequence[TrialRecord], newest: str) -> None:
        """Take all trials of a group in order, and the revision in question."""
        own = [record for record in ordered if not record.guest]
        members = max(1, len({record.student for record in own}))
        self._newest = newest
        self._practice: list[float] = []
        launched = 0
        for record in ordered:
            self._practice.append(launched / members)
            launched += not record.guest
        self._handling = next((r.handling for r in reversed(own) if r.handling), "")
        self._distance_mm = next((r.distance_mm for r in reversed(own) if r.distance_mm), None)

    def describe(self, record: TrialRecord, at: int) -> dict[str, Any]:
        """Return device, handling, distance and practice of the trial at a place in the order."""
        device, name = Device.NEWEST, record.revision
        if record.owner:
            device, name = Device.OTHER_GROUP, record.owner
        elif record.revision != self._newest:
            device = Device.OLDER
        ratio = 1.0
        if record.distance_mm and self._distance_mm:
            ratio = record.distance_mm / self._distance_mm
        low, high = DISTANCE_RATIOS
        return {
            "guest": record.guest,
            "device": device,
            "device_name": name,
            "other_handling": "" if record.handling == self._handling else record.handling,
            "distance_ratio": min(max(round(10 * ratio) / 10, low), high),
            "practice": self._practice[at],
        }


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
    record: TrialRecord,
    frame: Frame,
    evidence: Evidence,
    lessons: _Lessons,
    at: int,
    scale: float,
    zones: Zones,
) -> MeasuredTrial | None:
    amount = _finite(record.amount)
    load = 0.0 if amount is None else max(0.0, amount * scale - FREE_AMOUNT)
    points = {worth for _, worth in zones.squares}
    beyond = record.place in {Place.WALL, Place.NOWHERE}
    hit, value, unit = None, record.measured, frame.unit_mm
    if evidence is Evidence.POSITIONS:
        spot = record.hit
        if spot is not None and not beyond:
            within_x = frame.left_mm <= spot[0] <= frame.right_mm
            beyond = not (within_x and frame.bottom_mm <= spot[1] <= frame.top_mm)
            hit = None if beyond else (spot[0] / unit, spot[1] / unit)
        if hit is None and not beyond and (record.place is None or value not in points):
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
        **lessons.describe(record, at),
    )
