"""The teacher's page of a launch's energy beside published limits."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from uuid import UUID

from journal.analysis.room_limits import report_room
from journal.analysis.safety import report_launch
from journal.calculators.launch_forms import (
    LAUNCH_QUANTITIES,
    OTHER_TIP,
    ROOM_QUANTITIES,
    TICKS,
    TIP_KINDS,
    read_launch,
    tips_of,
)
from journal.calculators.limit_reports import (
    CodeLine,
    describe_codes,
    describe_room_report,
    describe_unknown,
    figures_of_launch,
)
from journal.calculators.quantities import (
    Figure,
    QuantityField,
    fields_of,
    read_quantities,
    word_figures,
)
from journal.content.messages import word_message
from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.messages import Message
from journal.domain.numbers import show_number
from journal.domain.safety_limits import SafetyLimits
from journal.domain.sessions import Session
from journal.records.group_contexts import get_present_challenge
from journal.records.work import Work
from journal.screens.desk.frames import frame_class
from journal.screens.frames import DeskFrame
from journal.services.classes import get_own_class
from journal.services.safety_limits import limits_of_school
from journal.store import people

Errors = Mapping[str, list[str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class TipChoices:
    """What is chosen about the tip and the projectile."""

    tips: tuple[tuple[str, str], ...]
    tip: str
    kinds: tuple[tuple[str, str], ...]
    kind: str
    ticks: tuple[tuple[str, str], ...]
    ticked: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class EnergyPage:
    """A launch beside the limits, and the room; only the room where nothing is launched."""

    frame: DeskFrame
    class_id: UUID
    scope: str
    launch: tuple[QuantityField, ...]
    room: tuple[QuantityField, ...]
    choices: TipChoices
    codes: tuple[CodeLine, ...]
    figures: tuple[Figure, ...]
    open_lines: tuple[str, ...]
    below_all: str
    room_lines: tuple[str, ...]
    errors: Errors | None = None


def prepare_energy(
    work: Work, class_id: UUID, entered: Mapping[str, str], errors: Errors | None = None
) -> EnergyPage:
    """Gather the page; raise Invalid for quantities that cannot be taken.

    With `errors` the form is shown again and nothing is compared. Once it was `sent`, a launch
    of which nothing is known is E0.
    """
    school_class = get_own_class(work, class_id)
    challenge, of_challenge = get_present_challenge(work, school_class)
    limits = limits_of_school(work, school_class.school_id)
    language = school_class.language
    sent = bool(entered.get("sent"))
    codes: tuple[CodeLine, ...] = ()
    figures: tuple[Figure, ...] = ()
    open_lines: tuple[str, ...] = ()
    below_all = ""
    if sent and errors is None and challenge.launches:
        launch = read_launch(challenge, entered)
        report = report_launch(launch, limits)
        codes = describe_codes(launch, report, limits, language)
        figures = word_figures(figures_of_launch(report, limits), language)
        open_lines = describe_unknown(launch, report, language)
        below_all = limits.below_all if report.below_all and not open_lines else ""
    known = entered if sent else {**_known(of_challenge, challenge), **entered}
    return EnergyPage(
        frame=frame_energy(
            school_class,
            word_message(Message("energy.energy_of_a_launch"), language)
            if challenge.launches
            else "Room and limits",
            challenge,
        ),
        class_id=class_id,
        scope=limits.scope,
        launch=fields_of(LAUNCH_QUANTITIES, known, language) if challenge.launches else (),
        room=fields_of(ROOM_QUANTITIES, known, language),
        choices=_choices(challenge, entered, language),
        codes=codes,
        figures=figures,
        open_lines=open_lines,
        below_all=below_all,
        room_lines=_room_lines(work, school_class, of_challenge, limits, entered, errors),
        errors=errors,
    )


def frame_energy(
    school_class: SchoolClass, heading: str, challenge: Challenge | None = None
) -> DeskFrame:
    """Return the frame of a page about energy and limits."""
    if challenge is None:
        return frame_class(school_class, heading, tested=[])
    what = f"{school_class.name}, {challenge.title}"
    return frame_class(school_class, heading, what, tested=[challenge])


def _known(of_challenge: tuple[Session, ...], challenge: Challenge) -> dict[str, str]:
    running = next((session for session in of_challenge if session.is_running), None)
    distance_mm = running.distance_mm if running else challenge.distance_mm
    known = {"teachers": "1"}
    return known if distance_mm is None else {**known, "range_m": show_number(distance_mm / 1000)}


def _choices(challenge: Challenge, entered: Mapping[str, str], language: str) -> TipChoices:
    listed = tips_of(challenge)
    tips = [(tip, tip) for tip in listed]
    if tips:
        tips.append((OTHER_TIP, "another one"))
    return TipChoices(
        tips=tuple(tips),
        tip=entered.get("tip", listed[0] if listed else ""),
        kinds=tuple((key, word_message(name, language)) for key, name in TIP_KINDS),
        kind=entered.get("tip_kind", ""),
        ticks=tuple((key, word_message(name, language)) for key, name in TICKS),
        ticked=tuple(name for name, _ in TICKS if entered.get(name)),
    )


def _room_lines(
    work: Work,
    school_class: SchoolClass,
    of_challenge: tuple[Session, ...],
    limits: SafetyLimits,
    entered: Mapping[str, str],
    errors: Errors | None,
) -> tuple[str, ...]:
    given = {} if errors else read_quantities(ROOM_QUANTITIES, entered)
    running = next((session for session in of_challenge if session.is_running), None)
    absent = running.absent_student_ids if running else frozenset()
    students = sum(
        not student.left and student.id not in absent
        for student in people.students_of_class(work.session, school_class.id)
    )
    teachers = int(given.get("teachers", 1))
    floor_ft2 = given.get("floor_ft2")
    report = report_room(
        students=students,
        teachers=teachers,
        band=school_class.band,
        limits=limits,
        floor_ft2=floor_ft2,
    )
    return describe_room_report(
        report,
        limits,
        school_class.language,
        students=students,
        teachers=teachers,
        band=school_class.band,
        floor_ft2=floor_ft2,
    )
