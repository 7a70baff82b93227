"""Published limits that launches are compared with: dated, sourced records that a school edits.

They govern toys on sale; classroom devices are outside them, and they serve as benchmarks only.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from journal.domain.errors import NotFound
from journal.domain.messages import Message


class LimitKey(StrEnum):
    """The limits by name; each name carries its unit."""

    #: Where toy rules begin to limit a launch.
    REVIEW_ENERGY_J = "review_energy_j"
    ENERGY_PER_AREA_J_M2 = "energy_per_area_j_m2"
    EYE_ENERGY_PER_AREA_J_M2 = "eye_energy_per_area_j_m2"
    RIGID_TIP_ENERGY_J = "rigid_tip_energy_j"
    SOFT_TIP_ENERGY_J = "soft_tip_energy_j"
    LEAST_TIP_MM = "least_tip_mm"
    SMALL_PART_WIDTH_MM = "small_part_width_mm"
    SMALL_PART_LENGTH_MM = "small_part_length_mm"
    SMALL_BALL_MM = "small_ball_mm"
    SUCTION_CUP_LENGTH_MM = "suction_cup_length_mm"
    FACES_RANGE_MM = "faces_range_mm"
    FACES_ENERGY_J = "faces_energy_j"
    STUDENTS_PER_TEACHER = "students_per_teacher"
    FLOOR_ELEMENTARY_FT2 = "floor_elementary_ft2"
    FLOOR_SECONDARY_FT2 = "floor_secondary_ft2"


class Evidence(StrEnum):
    """How a value came to be known."""

    LOOKED_UP = "looked_up"
    SECONDARY = "secondary_source"
    #: Not looked up, or not wholly: a part of the source or its edition is from memory.
    FROM_MEMORY = "from_memory"
    #: Worked out from other values, which the source names.
    COMPUTED = "computed"
    COMMON_PRACTICE = "common_practice"
    #: Entered by the school in place of the published value.
    SCHOOL = "school"


@dataclass(frozen=True, slots=True, kw_only=True)
class SafetyLimit:
    """One limit with its origin."""

    key: LimitKey
    value: float
    unit: str
    source: str
    evidence: Evidence
    #: The year of the edition it was taken from; None for common practice.
    edition_year: int | None
    #: When the record was last looked through.
    reviewed_on: dt.date


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitEdit:
    """A school's own value of a limit, in the limit's unit; None goes back to the published one."""

    key: LimitKey
    value: float | None
    source: str
    edited_at: dt.datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class SafetyLimits:
    """All limits; `scope` is the line that is always printed with them."""

    scope: str
    below_all: str
    limits: Mapping[LimitKey, SafetyLimit]

    def value_of(self, key: LimitKey) -> float:
        """Return the value of one limit in the unit of its name; raise NotFound without one."""
        if key not in self.limits:
            message = Message("safety_limits.no_limit_called", key=key.value)
            raise NotFound(message)
        return self.limits[key].value

    def with_edits(self, edits: Iterable[LimitEdit]) -> SafetyLimits:
        """Return these limits with a school's edits, given from the oldest to the newest."""
        newest = {edit.key: edit for edit in edits}
        limits = self
        for edit in newest.values():
            if edit.value is not None:
                limits = limits.with_limit(
                    SafetyLimit(
                        key=edit.key,
                        value=edit.value,
                        unit=self.limits[edit.key].unit,
                        source=edit.source,
                        evidence=Evidence.SCHOOL,
                        edition_year=None,
                        reviewed_on=edit.edited_at.date(),
                    )
                )
        return limits

    def with_limit(self, limit: SafetyLimit) -> SafetyLimits:
        """Return these limits with one replaced, as a school edits it."""
        return SafetyLimits(
            scope=self.scope,
            below_all=self.below_all,
            limits={**self.limits, limit.key: limit},
        )
