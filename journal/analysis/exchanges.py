"""Exchange of parts: whether own parts changed hands, so that parts can be separated from students.

In: trials with student and own part. Out: why the own part cannot be separated from its student, or
None where it can. A student's own part and that student's handling are one and the same in the
data until somebody uses another's part.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

from journal.analysis.cells import Observation


class PartReason(StrEnum):
    """Why the own part stands inside use."""

    NOT_RECORDED = "not_recorded"
    #: Some trials lack it: whose part they were made with is not known.
    PARTLY_RECORDED = "partly_recorded"
    ONE_PART = "one_part"
    NEVER_EXCHANGED = "never_exchanged"
    CANNOT_SEPARATE = "cannot_separate"

    @property
    def offers_exchange(self) -> bool:
        """Tell whether exchanging parts would help to tell them apart."""
        return self in {PartReason.NEVER_EXCHANGED, PartReason.CANNOT_SEPARATE}


def find_part_reason(seen: Sequence[Observation]) -> PartReason | None:
    """Return why own parts cannot be separated from their students; None where parts changed hands.

    `seen` holds the measured trials of one group.
    """
    if not any(trial.own_part for trial in seen):
        return PartReason.NOT_RECORDED
    if not all(trial.own_part for trial in seen):
        return PartReason.PARTLY_RECORDED
    pairs = {(trial.student, trial.own_part) for trial in seen}
    students = {student for student, _ in pairs}
    own_parts = {own_part for _, own_part in pairs}
    if len(own_parts) == 1:
        return PartReason.ONE_PART
    somebody_had_two = len(pairs) > len(students)
    some_part_had_two = len(pairs) > len(own_parts)
    if somebody_had_two and some_part_had_two:
        return None
    return PartReason.NEVER_EXCHANGED
