"""Groups at a panel whose cause is known: drawn from a seed, told as trial records.

Two generators. The first is what the models are tuned on (with one set of seeds) and reported on
(with another); on the second nothing is tuned: heavy tails, scatter that falls with practice,
unequal turns, absent members, an exchanged dart. All values are invented.
Lengths in mm from the aim point in the middle of a square panel, x right, y up.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import hypot, pi

import numpy as np

from journal.analysis.records import TrialRecord
from journal.domain.trials import Place
from tests.simulation.causes import CAUSE_SETS, CHANCES

HALF_PANEL_MM = 300.0
#: Half sides of concentric squares and their points, from the inside.
ZONES = ((60.0, 8.0), (120.0, 4.0), (200.0, 2.0), (300.0, 1.0))
SIZES = (3, 4, 5)
LOWEST = -pi / 2
MOST_AMOUNT = 8
FREE_AMOUNT = 2


class Telling(StrEnum):
    """What is written down of a trial."""

    POSITIONS = "positions"
    POINTS = "zone points"
    MEASURES = "plain measures"


@dataclass(frozen=True, slots=True, kw_only=True)
class Classroom:
    """One group with its known causes and its attempts, one entry of each row an attempt."""

    causes: frozenset[str]
    size: int
    #: Students (or own parts) that carry the cause "use".
    carriers: frozenset[int]
    #: The cause sits in the own parts of the carriers, not in their hands.
    in_parts: bool
    student: tuple[int, ...]
    part: tuple[int, ...]
    revision: tuple[int, ...]
    amount: tuple[int, ...]
    misfired: tuple[bool, ...]
    x_mm: tuple[float, ...]
    y_mm: tuple[float, ...]


def draw_classrooms(
    seed: int,
    count: int,
    attempts: int,
    *,
    second: bool = False,
    calm: bool = False,
    revisions: int = 1,
    causes: frozenset[str] | None = None,
    exchange: bool | None = None,
    in_parts: bool = False,
) -> list[Classroom]:
    """Draw `count` groups of `attempts` trials each; `causes` fixes the cause set."""
    rng = np.random.default_rng(seed)
    return [
        _draw(rng, attempts, second, calm, revisions, causes, exchange, in_parts)
        for _ in range(count)
    ]


def _draw(
    rng: np.random.Generator,
    attempts: int,
    second: bool,  # noqa: FBT001 - handed on
    calm: bool,  # noqa: FBT001 - handed on
    revisions: int,
    fixed: frozenset[str] | None,
    exchange: bool | None,  # noqa: FBT001 - handed on
    in_parts: bool,  # noqa: FBT001 - handed on
) -> Classroom:
    size = int(rng.choice(SIZES))
    causes = CAUSE_SETS[int(rng.choice(len(CAUSE_SETS), p=CHANCES))] if fixed is None else fixed
    scatter = 90.0 * np.exp(rng.normal(0, 0.25, size))
    pull = rng.normal(0, 25, (size, 2))
    own = rng.normal(0, 20, (revisions, 2))
    chance = 0.03
    slope = extra = 0.0
    if "device_offset" in causes:
        low = rng.random() < 0.7
        angle = LOWEST + (rng.uniform(-pi / 4, pi / 4) if low else rng.uniform(-pi, pi))
        own = own + rng.uniform(120, 260) * np.array([np.cos(angle), np.sin(angle)])
    if "device_scatter" in causes:
        extra = rng.uniform(110, 200)
    if "load" in causes:
        slope = rng.uniform(15, 40)
    if "mechanism" in causes:
        chance = rng.uniform(0.25, 0.5)
    carriers: list[int] = []
    wider = np.ones(size)
    pulled = np.zeros((size, 2))
    if "use" in causes:
        carriers = [int(c) for c in rng.choice(size, int(rng.integers(1, 3)), replace=False)]
        for carrier in carriers:
            if rng.random() < 0.5:
                wider[carrier] = rng.uniform(2.2, 3.5)
            else:
                angle = rng.uniform(-pi, pi)
                pulled[carrier] = rng.uniform(120, 220) * np.array([np.cos(angle), np.sin(angle)])
    student = _turns(rng, size, attempts, second)
    exchanged = (second and rng.random() < 0.5) if exchange is None else exchange
    part = _parts(rng, size, student, exchanged, in_parts, carriers)
    amount = rng.integers(1, MOST_AMOUNT + 1, attempts)
    revision = np.arange(attempts) * revisions // attempts
    fall = rng.uniform(0.1, 0.4) if second else 0.0
    noise = rng.normal(0, 1, (attempts, 2))
    if second:
        # Student's t with three degrees of freedom; `calm` brings it to unit variance.
        noise /= np.sqrt(rng.chisquare(3, (attempts, 1)) / (1 if calm else 3))
    faulty = part if in_parts else student
    practised = 1 - fall * np.arange(attempts) / max(1, attempts - 1)
    spread = np.sqrt((scatter[student] * wider[faulty]) ** 2 + extra**2) * practised
    at = own[revision] + pull[student] + pulled[faulty] + noise * spread[:, None]
    at[:, 1] -= slope * np.maximum(0, amount - FREE_AMOUNT)
    return Classroom(
        causes=causes,
        size=size,
        carriers=frozenset(carriers),
        in_parts=in_parts,
        student=tuple(map(int, student)),
        part=tuple(map(int, part)),
        revision=tuple(map(int, revision)),
        amount=tuple(map(int, amount)),
        misfired=tuple(map(bool, rng.random(attempts) < chance)),
        x_mm=tuple(map(float, at[:, 0])),
        y_mm=tuple(map(float, at[:, 1])),
    )


def _turns(
    rng: np.random.Generator,
    size: int,
    attempts: int,
    second: bool,  # noqa: FBT001 - handed on
) -> np.ndarray:
    if not second:
        return np.arange(attempts) % size
    # Three tenths of the groups miss a member for the session; the others take unequal turns.
    there = np.arange(size - 1 if size > SIZES[0] and rng.random() < 0.3 else size)
    shares = rng.dirichlet(np.full(len(there), 6.0))
    return rng.choice(there, attempts, p=shares)


def _parts(
    rng: np.random.Generator,
    size: int,
    student: np.ndarray,
    exchanged: bool,  # noqa: FBT001 - handed on
    in_parts: bool,  # noqa: FBT001 - handed on
    carriers: list[int],
) -> np.ndarray:
    """Return whose dart was used: two members exchange theirs for the second half."""
    part = student.copy()
    if not exchanged:
        return part
    if carriers:
        rest = [one for one in range(size) if one not in carriers]
        pair = (carriers[0], int(rng.choice(rest)))
    else:
        pair = tuple(int(one) for one in rng.choice(size, 2, replace=False))
    late = np.arange(len(student)) >= len(student) // 2
    part[late & (student == pair[0])] = pair[1]
    part[late & (student == pair[1])] = pair[0]
    return part


def points_at(x_mm: float, y_mm: float) -> float:
    """Return the points of a hit: the innermost square that holds it, 0 beyond the panel."""
    far = max(abs(x_mm), abs(y_mm))
    return next((points for half_mm, points in ZONES if far <= half_mm), 0.0)


def told_as(classroom: Classroom, telling: Telling) -> list[TrialRecord]:
    """Return the attempts of a group as trial records, told in one of three ways."""
    records = []
    for order, student in enumerate(classroom.student):
        x_mm, y_mm = classroom.x_mm[order], classroom.y_mm[order]
        misfired = classroom.misfired[order]
        on_panel = max(abs(x_mm), abs(y_mm)) <= HALF_PANEL_MM
        hit = telling is Telling.POSITIONS and on_panel and not misfired
        value = None
        if not misfired and telling is Telling.MEASURES:
            value = hypot(x_mm, y_mm) if on_panel else HALF_PANEL_MM
        elif not misfired:
            value = points_at(x_mm, y_mm)
        records.append(
            TrialRecord(
                order=order + 1,
                revision=f"r{classroom.revision[order] + 1}",
                student=f"s{student + 1}",
                own_part=f"d{classroom.part[order] + 1}",
                x_mm=x_mm if hit else None,
                y_mm=y_mm if hit else None,
                value=value,
                place=None if misfired else Place.PANEL if on_panel else Place.WALL,
                amount=float(classroom.amount[order]),
                misfire="slipped" if misfired else None,
            )
        )
    return records
