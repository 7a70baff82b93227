"""Room limits: students a teacher and floor a student, beside published recommendations.

In: how many people and how much floor. Out: notices with the figures.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

from journal.domain.classes import GradeBand
from journal.domain.safety_limits import LimitKey, SafetyLimits

M2_PER_FT2 = 0.09290304


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomReport:
    """What the room would need, and whether that is more than there is."""

    #: More students a teacher than recommended.
    too_many_students: bool
    needed_floor_ft2: float
    #: None where the floor is not known.
    too_little_floor: bool | None


def report_room(
    *,
    students: int,
    teachers: int,
    band: GradeBand,
    limits: SafetyLimits,
    floor_ft2: float | None = None,
) -> RoomReport:
    """Compare a class and its room with the recommendations for its `band`.

    `students` and `teachers` are counts; `floor_ft2` is the floor in square feet, None where it was
    not measured.
    """
    secondary = band is GradeBand.SIX_TO_EIGHT
    key = LimitKey.FLOOR_SECONDARY_FT2 if secondary else LimitKey.FLOOR_ELEMENTARY_FT2
    needed_ft2 = students * limits.value_of(key)
    most = limits.value_of(LimitKey.STUDENTS_PER_TEACHER) * teachers
    known = floor_ft2 is not None and isfinite(floor_ft2)
    return RoomReport(
        too_many_students=students > most,
        needed_floor_ft2=needed_ft2,
        too_little_floor=floor_ft2 < needed_ft2 if known and floor_ft2 is not None else None,
    )
