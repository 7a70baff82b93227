"""Reports in words: a safety report or a room report in, lines for the teacher out."""

from __future__ import annotations

from dataclasses import dataclass

from journal.analysis.physics import find_least_speed_m_s
from journal.analysis.room_limits import M2_PER_FT2, RoomReport
from journal.analysis.safety import (
    Launch,
    SafetyCode,
    SafetyNotice,
    SafetyReport,
    find_least_contact_mm,
)
from journal.calculators.quantities import Figure
from journal.content.energy import (
    describe_code,
    describe_evidence,
    describe_notice,
    describe_room,
    get_note,
)
from journal.content.messages import word_message
from journal.content.shown_times import show_day
from journal.domain.classes import GradeBand
from journal.domain.messages import Message, Words
from journal.domain.numbers import show_number, show_quantity
from journal.domain.safety_limits import LimitKey, SafetyLimit, SafetyLimits

_LIMIT_OF = {
    SafetyCode.E0: LimitKey.REVIEW_ENERGY_J,
    SafetyCode.E1: LimitKey.REVIEW_ENERGY_J,
    SafetyCode.E2: LimitKey.ENERGY_PER_AREA_J_M2,
    SafetyCode.E3: LimitKey.EYE_ENERGY_PER_AREA_J_M2,
    SafetyCode.E4: LimitKey.RIGID_TIP_ENERGY_J,
    SafetyCode.E5: LimitKey.SOFT_TIP_ENERGY_J,
    SafetyCode.E6: LimitKey.LEAST_TIP_MM,
    SafetyCode.E7: LimitKey.SMALL_PART_WIDTH_MM,
    SafetyNotice.SUCTION_CUP_SHORT: LimitKey.SUCTION_CUP_LENGTH_MM,
    SafetyNotice.EYES_AND_FACE: LimitKey.FACES_RANGE_MM,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class CodeLine:
    """A code or notice in words, with where its limit comes from."""

    code: str
    words: str
    source: str


def describe_codes(
    launch: Launch, report: SafetyReport, limits: SafetyLimits, language: str
) -> tuple[CodeLine, ...]:
    """Return each code and notice with its limit's origin."""
    lines = []
    for code in report.codes:
        key = _LIMIT_OF[code]
        if code is SafetyCode.E7 and launch.ball:
            key = LimitKey.SMALL_BALL_MM
        limit = limits.limits[key]
        words = describe_code(code.value, language, show_limit(limit))
        source = "" if code is SafetyCode.E0 else describe_source(limit, language)
        lines.append(CodeLine(code=code.value, words=words, source=source))
    for notice in report.notices:
        limit = limits.limits[_LIMIT_OF[notice]]
        words = describe_notice(notice.value, language, show_limit(limit))
        lines.append(CodeLine(code="", words=words, source=describe_source(limit, language)))
    return tuple(lines)


def figures_of_launch(report: SafetyReport, limits: SafetyLimits) -> tuple[Figure, ...]:
    """Return speed, energy and energy over area, as far as they are known.

    Where the energy asks for a review, so does its contact: how wide it is at the limit.
    """
    least: Words = Message("limit_reports.at_least") if report.energy_is_least else ""
    figures = []
    if report.speed_m_s is not None:
        value = f"{show_quantity(report.speed_m_s)} m/s"
        figures.append(Figure(label=Message("limit_reports.speed", least=least), value=value))
    if report.energy_j is not None:
        figures.append(
            Figure(
                label=Message("limit_reports.energy", least=least),
                value=f"{show_quantity(report.energy_j)} J",
            )
        )
    if report.energy_per_area_j_m2 is not None:
        value = f"{show_quantity(report.energy_per_area_j_m2)} J/m²"
        figures.append(
            Figure(
                label=Message("limit_reports.energy_over_contact_area", least=least), value=value
            )
        )
    if report.energy_j is not None and SafetyCode.E1 in report.codes:
        limit = show_limit(limits.limits[LimitKey.ENERGY_PER_AREA_J_M2])
        value = f"{show_quantity(find_least_contact_mm(report.energy_j, limits))} mm across"
        figures.append(
            Figure(
                label=Message("limit_reports.round_contact_at", limit=limit, least=least),
                value=value,
            )
        )
    return tuple(figures)


def describe_unknown(launch: Launch, report: SafetyReport, language: str) -> tuple[str, ...]:
    """Return what could not be compared, and why."""
    if report.energy_j is None:
        return ()
    notes = [get_note("least", language)] if report.energy_is_least else []
    if _is_too_slow(launch, report):
        notes.append(get_note("too_slow", language))
    if report.energy_per_area_j_m2 is None:
        notes.append(get_note("no_area", language))
    if launch.tip is None:
        notes.append(get_note("no_tip", language))
    return tuple(notes)


def _is_too_slow(launch: Launch, report: SafetyReport) -> bool:
    """Tell whether the measured speed could not have reached the distance that was measured."""
    if report.energy_is_least or not launch.range_m or report.speed_m_s is None:
        return False
    return report.speed_m_s < find_least_speed_m_s(launch.range_m, launch.drop_m)


def describe_room_report(
    report: RoomReport,
    limits: SafetyLimits,
    language: str,
    *,
    students: int,
    teachers: int,
    band: GradeBand,
    floor_ft2: float | None,
) -> tuple[str, ...]:
    """Return the lines about students a teacher and floor a student."""
    secondary = band is GradeBand.SIX_TO_EIGHT
    key = LimitKey.FLOOR_SECONDARY_FT2 if secondary else LimitKey.FLOOR_ELEMENTARY_FT2
    counted = str(students)
    adults = word_message(Message("limit_reports.teachers", count=teachers), language)
    lines = []
    if report.too_many_students:
        limit = show_number(limits.value_of(LimitKey.STUDENTS_PER_TEACHER))
        lines.append(
            describe_room("students", language, students=counted, teachers=adults, limit=limit)
        )
    needed = _show_floor(report.needed_floor_ft2, language)
    limit = word_message(
        Message("limit_reports.square_feet_a_student", floor_ft2=limits.value_of(key)), language
    )
    if report.too_little_floor is None:
        lines.append(
            describe_room("floor_needed", language, students=counted, needed=needed, limit=limit)
        )
    elif report.too_little_floor and floor_ft2 is not None:
        floor = _show_floor(floor_ft2, language)
        lines.append(
            describe_room(
                "floor", language, students=counted, needed=needed, limit=limit, floor=floor
            )
        )
    if not report.too_many_students and report.too_little_floor is False:
        lines.append(describe_room("enough", language, students=counted, teachers=adults))
    return tuple(lines)


def show_limit(limit: SafetyLimit) -> str:
    """Return a limit with its unit."""
    return f"{show_number(limit.value)} {show_limit_unit(limit)}"


def show_limit_unit(limit: SafetyLimit) -> str:
    """Return the unit of a limit as it is read."""
    return limit.unit.replace("m2", "m²").replace("ft2", "square feet")


def describe_source(limit: SafetyLimit, language: str) -> str:
    """Return where a limit comes from, and in one sentence how and since when it is known."""
    evidence = describe_evidence(limit.evidence, language, show_day(limit.reviewed_on))
    source = limit.source.rstrip(".")
    if limit.edition_year is None:
        message = Message("limit_reports.source", source=source, evidence=evidence)
    else:
        message = Message(
            "limit_reports.dated_source",
            source=source,
            year=str(limit.edition_year),
            evidence=evidence,
        )
    return word_message(message, language)


def _show_floor(floor_ft2: float, language: str) -> str:
    message = Message(
        "limit_reports.square_feet",
        floor_ft2=show_number(floor_ft2, 0),
        floor_m2=show_number(floor_ft2 * M2_PER_FT2, 0),
    )
    return word_message(message, language)
