"""What the teacher's pages of a class's people show: the pasted list, who is in a group."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from uuid import UUID

from journal.content.ladders import get_question, ladder_language
from journal.content.languages import QUESTION_LANGUAGES
from journal.content.messages import word_message
from journal.content.shown_times import show_day
from journal.domain.classes import SchoolClass
from journal.domain.errors import Invalid
from journal.domain.groups import Group
from journal.domain.ladders import Rung
from journal.domain.rosters import LONGEST_NICKNAME
from journal.records.work import Work
from journal.screens.desk.frames import frame_class
from journal.screens.frames import DeskFrame
from journal.services.classes import get_own_class
from journal.services.groups import find_ungrouped, get_own_group, warn_of_size
from journal.store import groups, people

Errors = Mapping[str, list[str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class RosterPage:
    """The form for a pasted list; each problem names its line."""

    frame: DeskFrame
    class_id: UUID
    text: str
    longest: int
    #: Pairs such as ("Line 3", "...").
    problems: tuple[tuple[str, str], ...]
    here: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LanguageOption:
    """A language in which a group can be asked."""

    code: str
    #: Its own name for itself.
    name: str
    #: A first question in it, as the class's band reads it.
    question: str
    is_chosen: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class MembersPage:
    """One group: its name, who is in it, who was, who could join, in which language it is asked."""

    frame: DeskFrame
    class_id: UUID
    group_id: UUID
    number: int
    name: str
    warning: str
    #: Id and nickname of each.
    members: tuple[tuple[str, str], ...]
    former: tuple[str, ...]
    #: Where a member may go: pairs of a group's id, or a word, and what it is called.
    places: tuple[tuple[str, str], ...]
    ungrouped: tuple[tuple[str, str], ...]
    languages: tuple[LanguageOption, ...]
    errors: Errors | None = None


def prepare_roster(
    work: Work, class_id: UUID, text: str = "", invalid: Invalid | None = None
) -> RosterPage:
    """Gather the form; a refused list stands in it as it was pasted."""
    school_class = get_own_class(work, class_id)
    everybody = people.students_of_class(work.session, class_id)
    here = [student.nickname for student in everybody if not student.left]
    problems = () if invalid is None else invalid.problems
    return RosterPage(
        frame=frame_class(school_class, "Add students", school_class.name),
        class_id=class_id,
        text=text,
        longest=LONGEST_NICKNAME,
        problems=tuple(
            (_where(problem.field), word_message(problem.what, school_class.language))
            for problem in problems
        ),
        here=", ".join(here),
    )


def prepare_members(
    work: Work,
    class_id: UUID,
    group_id: UUID,
    name: str | None = None,
    errors: Errors | None = None,
) -> MembersPage:
    """Gather one group of the teacher's class; a refused name stands in its field again."""
    school_class = get_own_class(work, class_id)
    group = get_own_group(work, class_id, group_id)
    shelf = groups.groups_of_class(work.session, class_id)
    others = [
        (str(other.id), f"{other.number} {other.name}") for other in shelf if other.id != group_id
    ]
    present = group.present_members
    return MembersPage(
        frame=frame_class(school_class, group.name, school_class.name),
        class_id=class_id,
        group_id=group_id,
        number=group.number,
        name=group.name if name is None else name,
        warning=word_message(warn_of_size(len(present)) or "", school_class.language),
        members=tuple((str(member.student_id), member.nickname) for member in present),
        former=tuple(
            f"{member.nickname}, until {show_day(member.left_at)}"
            for member in group.members
            if member.left_at is not None
        ),
        places=(*others, ("none", "no group"), ("away", "left the class")),
        ungrouped=tuple(
            (str(student.id), student.nickname) for student in find_ungrouped(work, class_id, shelf)
        ),
        languages=_languages(school_class, group),
        errors=errors,
    )


def _languages(school_class: SchoolClass, group: Group) -> tuple[LanguageOption, ...]:
    present = ladder_language(group.question_language or school_class.language)
    return tuple(
        LanguageOption(
            code=code,
            name=name,
            question=get_question(Rung.NOTICE, school_class.band, code).plain,
            is_chosen=code == present,
        )
        for code, name in QUESTION_LANGUAGES
    )


def _where(field: str) -> str:
    return field.capitalize() if field.startswith("line ") else "The list"
