"""Classes of a teacher: making one, and setting its door."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from uuid import UUID

from journal.content.languages import LANGUAGES
from journal.domain.classes import ClassEntry, Door, GradeBand, SchoolClass
from journal.domain.errors import Invalid, Problem
from journal.domain.messages import Message
from journal.domain.permits import require_may_teach, require_teacher
from journal.records.work import Work
from journal.store import classes, people

LONGEST_NAME = 60
#: A longer time is asked about: grades 2 to 8 take less (our own choice).
USUAL_YEARS = 6


def make_class(work: Work, entered: Mapping[str, str]) -> SchoolClass:
    """Make a class of the teacher who asks.

    `entered` holds name, band, language, retention_date and, for more than six years, keep_long.
    Raises Invalid with a Problem beside each of them.
    """
    teacher = people.get_teacher(work.session, require_teacher(work.actor))
    problems: list[Problem] = []
    name = _read_name(work, teacher.id, entered.get("name", ""), problems)
    band = _read_band(entered.get("band", ""), problems)
    language = entered.get("language", "")
    if language not in dict(LANGUAGES):
        problems.append(Problem("language", Message("classes.choose_one_of_the_languages")))
    retention_date = _read_retention(work, entered, problems)
    if problems or band is None or retention_date is None:
        message = Message("classes.class_is_not_made_yet")
        raise Invalid(message, problems)
    entry = ClassEntry(name=name, band=band, language=language, retention_date=retention_date)
    return classes.add_class(
        work.session, school_id=teacher.school_id, teacher_id=teacher.id, entry=entry
    )


def set_door(work: Work, class_id: UUID, door: str) -> None:
    """Set what happens when a tablet brings the right lesson word."""
    get_own_class(work, class_id)
    if door not in set(Door):
        raise Invalid.at("door", Message("classes.choose_one_of_the_two"))
    classes.set_door(work.session, class_id, Door(door))
    classes.bump_version(work.session, class_id)


def get_own_class(work: Work, class_id: UUID) -> SchoolClass:
    """Return a class of the teacher who asks; raise NotFound for another one's."""
    school_class = classes.get_class(work.session, class_id)
    require_may_teach(work.actor, school_class)
    return school_class


def _read_name(work: Work, teacher_id: UUID, text: str, problems: list[Problem]) -> str:
    name = " ".join(text.split())
    if not name:
        problems.append(Problem("name", Message("classes.give_the_class_a_name")))
    elif len(name) > LONGEST_NAME or not name.isprintable():
        problems.append(
            Problem(
                "name", Message("classes.use_at_most_letters_and_digits", longest_name=LONGEST_NAME)
            )
        )
    else:
        own = classes.classes_of_teacher(work.session, teacher_id)
        if name.casefold() in {school_class.name.casefold() for school_class in own}:
            what = Message("classes.you_have_a_class_called_already", name=name)
            problems.append(Problem("name", what))
    return name


def _read_band(text: str, problems: list[Problem]) -> GradeBand | None:
    if text in set(GradeBand):
        return GradeBand(text)
    problems.append(Problem("band", Message("classes.choose_the_grades")))
    return None


def _read_retention(work: Work, entered: Mapping[str, str], problems: list[Problem]) -> date | None:
    try:
        day = date.fromisoformat(entered.get("retention_date", "").strip())
    except ValueError:
        what = Message("classes.choose_the_day_on_which_the_records")
        problems.append(Problem("retention_date", what))
        return None
    # The day of the school, which is that of the machine: in UTC it may be tomorrow already.
    today = work.now().astimezone().date()
    if day < today:
        problems.append(Problem("retention_date", Message("classes.choose_a_date_from_today_on")))
    elif day.year - today.year > USUAL_YEARS and not entered.get("keep_long"):
        what = Message("classes.that_is_more_than_years_away", usual_years=USUAL_YEARS)
        problems.append(Problem("keep_long", what))
    return day
