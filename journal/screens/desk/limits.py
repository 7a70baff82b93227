"""The teacher's page of the limits that launches and rooms are put beside."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from uuid import UUID

from journal.calculators.limit_reports import describe_source, show_limit, show_limit_unit
from journal.content.energy import get_limit_name
from journal.content.messages import word_message
from journal.content.safety_limits import read_safety_limits
from journal.domain.messages import Message
from journal.domain.numbers import show_number
from journal.domain.safety_limits import Evidence, SafetyLimit, SafetyLimits
from journal.records.work import Work
from journal.screens.desk.energy import frame_energy
from journal.screens.frames import DeskFrame
from journal.services.classes import get_own_class
from journal.services.safety_limits import limits_of_school

Errors = Mapping[str, list[str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitLine:
    """One limit with its origin, and whether the school put it there."""

    key: str
    name: str
    shown: str
    unit: str
    source: str
    published: str
    is_own: bool
    value: str
    own_source: str
    errors: Errors | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitsPage:
    """Every limit, to read and to edit."""

    frame: DeskFrame
    class_id: UUID
    scope: str
    limits: tuple[LimitLine, ...]


def prepare_limits(
    work: Work,
    class_id: UUID,
    entered: Mapping[str, str] | None = None,
    errors: Errors | None = None,
) -> LimitsPage:
    """Gather the limits; what was entered for one stands in its form again after a problem."""
    school_class = get_own_class(work, class_id)
    published = read_safety_limits()
    limits = limits_of_school(work, school_class.school_id)
    given = entered or {}
    return LimitsPage(
        frame=frame_energy(
            school_class,
            word_message(Message("limits.limits_for_launches_and_rooms"), school_class.language),
        ),
        class_id=class_id,
        scope=limits.scope,
        limits=tuple(
            _line(limit, published, school_class.language, given, errors)
            for limit in limits.limits.values()
        ),
    )


def _line(
    limit: SafetyLimit,
    published: SafetyLimits,
    language: str,
    given: Mapping[str, str],
    errors: Errors | None,
) -> LimitLine:
    key = limit.key.value
    is_own = limit.evidence is Evidence.SCHOOL
    return LimitLine(
        key=key,
        name=get_limit_name(limit.key, language),
        shown=show_limit(limit),
        unit=show_limit_unit(limit),
        source=describe_source(limit, language),
        published=show_limit(published.limits[limit.key]) if is_own else "",
        is_own=is_own,
        value=given.get(f"{key}.value", show_number(limit.value)),
        own_source=given.get(f"{key}.source", limit.source if is_own else ""),
        errors=errors if given.get("key") == key else None,
    )
