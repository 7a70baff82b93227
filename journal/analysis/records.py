"""The only input of the analysis: one record a trial, without names of tables or screens.

Comes in: what was logged or read from a file. Goes out: `TrialRecord` and a few ways to sort them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from journal.domain.trials import Place, TrialKind

#: No classroom measures further than this, or finer; beyond, sums would leave the range of floats.
LARGEST = 1e15
SMALLEST = 1e-15


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialFacts:
    """What is known of one trial; lengths in mm from the aim point, x right, y up."""

    #: The revision whose effect is looked at.
    revision: str
    #: "" where it is not known who did it.
    student: str = ""
    #: The revision of the student's own part, "" where there is none.
    own_part: str = ""
    handling: str = ""
    session: str = ""
    panel: str = ""
    kind: TrialKind = TrialKind.PRACTICE
    distance_mm: float | None = None
    x_mm: float | None = None
    y_mm: float | None = None
    #: Points or measure, in the unit of the outcome.
    value: float | None = None
    place: Place | None = None
    amount: float | None = None
    #: The cause, where it was a misfire.
    misfire: str | None = None
    #: Launched by somebody from outside the group, for comparison only: it never counts.
    guest: bool = False
    #: The group whose device was launched; "" for the own one.
    owner: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialRecord(TrialFacts):
    """One trial as the analysis sees it, in the order of the group's trials."""

    order: int

    @property
    def measured(self) -> float | None:
        """Return the value that counts: None for a misfire, and for what nobody can measure."""
        if self.misfire is not None or self.value is None:
            return None
        if not abs(self.value) <= LARGEST:  # also for NaN, which is never below anything
            return None
        return self.value if abs(self.value) >= SMALLEST else 0.0

    @property
    def hit(self) -> tuple[float, float] | None:
        """Return where it hit in mm: None for a misfire, and where no position is known."""
        if self.misfire is not None or self.x_mm is None or self.y_mm is None:
            return None
        if not (math.isfinite(self.x_mm) and math.isfinite(self.y_mm)):
            return None
        return (self.x_mm, self.y_mm)


def in_order(records: Iterable[TrialRecord]) -> list[TrialRecord]:
    """Return the records by order; those of one order stay as they came."""
    return sorted(records, key=lambda record: record.order)


def by_revision(records: Iterable[TrialRecord]) -> dict[str, list[TrialRecord]]:
    """Return the records of each revision, revisions in order of first appearance."""
    sorted_out: dict[str, list[TrialRecord]] = {}
    for record in records:
        sorted_out.setdefault(record.revision, []).append(record)
    return sorted_out


def by_student(records: Iterable[TrialRecord]) -> dict[str, list[TrialRecord]]:
    """Return the records of each student; those of nobody known stay together under ""."""
    sorted_out: dict[str, list[TrialRecord]] = {}
    for record in records:
        sorted_out.setdefault(record.student, []).append(record)
    return sorted_out


def measured_values(records: Iterable[TrialRecord]) -> list[float]:
    """Return the values that count, in the order of the records."""
    return [value for record in records if (value := record.measured) is not None]


def hits_of(records: Iterable[TrialRecord]) -> list[tuple[float, float]]:
    """Return the known positions in mm, in the order of the records."""
    return [hit for record in records if (hit := record.hit) is not None]


def misfires_among(records: Sequence[TrialRecord]) -> int:
    """Count the misfires."""
    return sum(1 for record in records if record.misfire is not None)


def own_trials(records: Iterable[TrialRecord]) -> list[TrialRecord]:
    """Return the group's own trials with its own device: those that may count as its results."""
    return [record for record in records if not record.guest and not record.owner]
