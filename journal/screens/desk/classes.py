"""What the teacher's class pages show: the list, the form for a new one, a class's desk."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from uuid import UUID

from journal.content.class_words import get_retention_hint
from journal.content.languages import LANGUAGES
from journal.content.messages import word_message
from journal.content.shown_times import show_day, show_time
from journal.domain.classes import Door, GradeBand, SchoolClass, propose_retention
from journal.domain.groups import Group
from journal.domain.permits import require_teacher
from journal.records.work import Work
from journal.screens.desk.frames import frame_class
from journal.screens.desk.next_steps import find_next_step
from journal.screens.desk.tablets import TabletsPage, prepare_tablets
from journal.screens.frames import DeskFrame
from journal.services.classes import get_own_class
from journal.services.groups import find_ungrouped, warn_of_size
from journal.store import classes, groups, people

Errors = Mapping[str, list[str]]
GRADES = {
    GradeBand.TWO: "Grade 2",
    GradeBand.THREE_TO_FIVE: "Grades 3-5",
    GradeBand.SIX_TO_EIGHT: "Grades 6-8",
}
BANDS = tuple((band.value, words) for band, words in GRADES.items())


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassLine:
    """A class in the teacher's list."""

    id: UUID
    name: str
    grades: str
    kept_until: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassesPage:
    """The teacher's classes."""

    frame: DeskFrame
    classes: tuple[ClassLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NewClassPage:
    """The form that makes a class, as far as it is filled in."""

    frame: DeskFrame
    entered: Mapping[str, str]
    bands: tuple[tuple[str, str], ...]
    languages: tuple[tuple[str, str], ...]
    today: str
    retention_hint: str
    asks_about_years: bool
    errors: Errors | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupStrip:
    """A group on the class's desk."""

    id: UUID
    number: int
    name: str
    members: str
    warning: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WordPlate:
    """The lesson word and until when it opens the door."""

    word: str
    until: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassPage:
    """A class's desk: who is there, in which group, and who stands at the door."""

    frame: DeskFrame
    class_id: UUID
    groups: tuple[GroupStrip, ...]
    #: Id and nickname of those in no group, and of those who left the class.
    ungrouped: tuple[tuple[str, str], ...]
    former: tuple[tuple[str, str], ...]
    word: WordPlate | None
    door: str
    at_door: TabletsPage
    chosen: tuple[str, ...] = ()
    errors: Errors | None = None


def prepare_classes(work: Work) -> ClassesPage:
    """Gather the classes of the teacher who asks."""
    teacher = people.get_teacher(work.session, require_teacher(work.actor))
    own = classes.classes_of_teacher(work.session, teacher.id)
    return ClassesPage(
        frame=DeskFrame(
            title="Your classes",
            heading="Your classes",
            what=teacher.shown_name,
        ),
        classes=tuple(_line(school_class) for school_class in own),
    )


def prepare_new_class(
    work: Work, entered: Mapping[str, str] | None = None, errors: Errors | None = None
) -> NewClassPage:
    """Gather the form for a new class; what was entered stands in it again after a problem."""
    require_teacher(work.actor)
    today = work.now().astimezone().date()
    given = {name: (entered or {}).get(name, "") for name in ("name", "band")}
    language = (entered or {}).get("language", LANGUAGES[0][0])
    proposed = propose_retention(today).isoformat()
    return NewClassPage(
        frame=DeskFrame(title="A new class", heading="A new class"),
        entered=given
        | {
            "language": language,
            "retention_date": (entered or {}).get("retention_date", proposed),
        },
        bands=BANDS,
        languages=LANGUAGES,
        today=today.isoformat(),
        retention_hint=get_retention_hint(language),
        asks_about_years="keep_long" in (errors or {}),
        errors=errors,
    )


def prepare_class(
    work: Work, class_id: UUID, chosen: Collection[str] = (), errors: Errors | None = None
) -> ClassPage:
    """Gather a class's desk."""
    school_class = get_own_class(work, class_id)
    shelf = groups.groups_of_class(work.session, class_id)
    ungrouped = find_ungrouped(work, class_id, shelf)
    everybody = people.students_of_class(work.session, class_id)
    found = classes.find_word(work.session, class_id, work.now())
    return ClassPage(
        frame=replace(
            frame_class(school_class, school_class.name, _describe(school_class)),
            next_step=find_next_step(work, school_class),
            is_of_class=True,
        ),
        class_id=class_id,
        groups=tuple(_strip(group, school_class.language) for group in shelf),
        ungrouped=tuple((str(student.id), student.nickname) for student in ungrouped),
        former=tuple((str(student.id), student.nickname) for student in everybody if student.left),
        word=None if found is None else WordPlate(word=found[0], until=show_time(found[1])),
        door=school_class.door.value,
        at_door=prepare_tablets(work, class_id),
        chosen=tuple(chosen),
        errors=errors,
    )


def _describe(school_class: SchoolClass) -> str:
    door = "" if school_class.door is Door.OPEN else ", tablets knock"
    kept = show_day(school_class.retention_date)
    return f"{GRADES[school_class.band]}, kept until {kept}{door}"


def _line(school_class: SchoolClass) -> ClassLine:
    return ClassLine(
        id=school_class.id,
        name=school_class.name,
        grades=GRADES[school_class.band],
        kept_until=show_day(school_class.retention_date),
    )


def _strip(group: Group, language: str) -> GroupStrip:
    return GroupStrip(
        id=group.id,
        number=group.number,
        name=group.name,
        members=", ".join(member.nickname for member in group.present_members),
        warning=word_message(warn_of_size(len(group.present_members)) or "", language),
    )
