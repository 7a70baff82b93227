"""The form that starts a session: what is asked depends on the challenge."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from uuid import UUID

from journal.content.session_words import get_session_text
from journal.domain.challenges import Challenge
from journal.domain.classes import SchoolClass
from journal.domain.group_contexts import challenge_id_of
from journal.domain.lengths import show_length
from journal.domain.lesson_times import CLEAN_UP_MIN, USUAL_LENGTH_MIN
from journal.domain.sessions import Session
from journal.records.work import Work
from journal.screens.desk.classes import GRADES
from journal.store import groups, people


@dataclass(frozen=True, slots=True, kw_only=True)
class StartForm:
    """The form that starts the next session, for one challenge."""

    challenge_id: UUID
    challenge: str
    #: Id and title of the class's other challenges.
    others: tuple[tuple[UUID, str], ...]
    #: None where nothing is launched, so that there is no distance or lane to be asked.
    distance: str | None
    distance_hint: str
    lanes: str | None
    #: What was written for another challenge and is not asked for this one, by name.
    carried: tuple[tuple[str, str], ...]
    length_min: str
    length_hint: str
    students: tuple[tuple[str, str, str], ...]
    absent: tuple[str, ...]


def find_chosen(entered: Mapping[str, str], by_id: Mapping[UUID, Challenge]) -> Challenge | None:
    """Return the challenge that was chosen; None for what is none of the class's."""
    chosen = entered.get("other") or entered.get("challenge_id", "")
    return next((by_id[key] for key in by_id if str(key) == chosen), None)


def view_start_form(
    school_class: SchoolClass,
    by_id: Mapping[UUID, Challenge],
    challenge: Challenge,
    last: Session | None,
    given: Mapping[str, str],
    *,
    students: tuple[tuple[str, str, str], ...],
    absent: tuple[str, ...],
) -> StartForm:
    """Return the form of one challenge; `last` is the session before."""
    given = _without_proposal(given, by_id)
    usual = USUAL_LENGTH_MIN[school_class.band]
    proposed = last.length_min if last is not None and last.length_min else usual
    language, distance = school_class.language, _propose_distance(challenge)
    lanes = str(last.lanes if last else 1) if challenge.launches else None
    return StartForm(
        challenge_id=challenge_id_of(challenge),
        challenge=challenge.title,
        others=tuple(
            (key, other.title) for key, other in by_id.items() if other.id != challenge.id
        ),
        distance=None if distance is None else given.get("distance", distance),
        distance_hint=get_session_text(language, "start", "distance"),
        lanes=None if lanes is None else given.get("lanes", lanes),
        carried=tuple(
            (name, given[name])
            for name, asked in (("distance", distance), ("lanes", lanes))
            if asked is None and given.get(name)
        ),
        length_min=given.get("length_min", str(proposed)),
        length_hint=get_session_text(
            language,
            "start",
            "length",
            usual=usual,
            grades=GRADES[school_class.band].lower(),
            clean_up=CLEAN_UP_MIN,
        ),
        students=students,
        absent=absent,
    )


def _propose_distance(challenge: Challenge) -> str | None:
    return None if challenge.distance_mm is None else show_length(challenge.distance_mm)


def _without_proposal(
    given: Mapping[str, str], by_id: Mapping[UUID, Challenge]
) -> Mapping[str, str]:
    """Leave out a distance that nobody wrote: the proposal of the challenge chosen before."""
    proposals = {_propose_distance(challenge) for challenge in by_id.values()}
    if not given.get("other") or given.get("distance") not in proposals:
        return given
    return {name: given[name] for name in given if name != "distance"}


def list_students(work: Work, class_id: UUID) -> tuple[tuple[str, str, str], ...]:
    """Return id, nickname and group name of each student of the class, by group."""
    found = [
        (str(member.student_id), member.nickname, group.name)
        for group in groups.groups_of_class(work.session, class_id)
        for member in group.present_members
    ]
    grouped = {student_id for student_id, _, _ in found}
    others = [
        (str(student.id), student.nickname, "no group yet")
        for student in people.students_of_class(work.session, class_id)
        if not student.left and str(student.id) not in grouped
    ]
    return (*found, *others)
