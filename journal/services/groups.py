"""Groups of a class: dealt or made by hand, joined, left, renamed, asked in another language.

More than five are refused. Fewer than three are allowed and named: a child may have left.
"""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID

from journal.content.group_names import get_group_names
from journal.content.languages import QUESTION_LANGUAGES
from journal.domain.classes import SchoolClass
from journal.domain.deals import deal
from journal.domain.errors import Invalid, NotFound, Refused
from journal.domain.groups import LEAST_MEMBERS, MOST_MEMBERS, Group
from journal.domain.messages import Message
from journal.domain.people import Student
from journal.records.work import Work
from journal.services.classes import get_own_class
from journal.services.rosters import get_own_student
from journal.store import classes, groups, people

LONGEST_NAME = 40


def deal_groups(work: Work, class_id: UUID) -> tuple[Group, ...]:
    """Deal the students who are in no group into groups of about four."""
    school_class = get_own_class(work, class_id)
    present = groups.groups_of_class(work.session, class_id)
    waiting = find_ungrouped(work, class_id, present)
    dealt = deal([student.id for student in waiting])
    if not dealt:
        message = Message(
            "groups.dealing_needs_students_without_a_group", least_members=LEAST_MEMBERS
        )
        raise Refused(message)
    made: list[Group] = []
    for student_ids in dealt:
        made.append(_add(work, school_class, (*present, *made), student_ids, ""))
    classes.bump_version(work.session, class_id)
    return tuple(made)


def make_group(work: Work, class_id: UUID, student_ids: Sequence[UUID], name: str = "") -> Group:
    """Make a group of these students; each leaves the group it was in.

    Raises Invalid beside `students` or `name`, NotFound for a student of another class.
    """
    school_class = get_own_class(work, class_id)
    chosen = tuple(dict.fromkeys(student_ids))
    if not chosen:
        raise Invalid.at("students", Message("groups.choose_who_is_in_the_group"))
    if len(chosen) > MOST_MEMBERS:
        what = Message(
            "groups.are_too_many_for_one_group", count=len(chosen), most_members=MOST_MEMBERS
        )
        raise Invalid.at("students", what)
    here = {student.id for student in _students_here(work, class_id)}
    if not here.issuperset(chosen):
        message = Message("people.no_such_student_in_this_class")
        raise NotFound(message)
    present = groups.groups_of_class(work.session, class_id)
    made = _add(work, school_class, present, chosen, name)
    classes.bump_version(work.session, class_id)
    return made


def move_student(work: Work, class_id: UUID, student_id: UUID, group_id: UUID | None) -> None:
    """Let a student join another group, or (None) leave the present one; history stays put."""
    _, student = get_own_student(work, class_id, student_id)
    group = None if group_id is None else get_own_group(work, class_id, group_id)
    if student.left:
        message = Message("groups.has_left_the_class", nickname=student.nickname)
        raise Refused(message)
    if group is not None and group.has(student_id):
        return
    if group is not None and len(group.present_members) >= MOST_MEMBERS:
        message = Message("groups.has_members_already", name=group.name, most_members=MOST_MEMBERS)
        raise Refused(message)
    at = work.now()
    groups.leave_groups(work.session, student_id, at)
    if group is not None:
        groups.join_group(work.session, group, [student_id], at)
    classes.bump_version(work.session, class_id)


def rename_group(work: Work, class_id: UUID, group_id: UUID, name: str) -> None:
    """Give a group another name; raise Invalid beside `name`."""
    group = get_own_group(work, class_id, group_id)
    others = [
        other for other in groups.groups_of_class(work.session, class_id) if other.id != group.id
    ]
    groups.rename_group(work.session, group_id, _check_name(name, others))
    classes.bump_version(work.session, class_id)


def set_question_language(work: Work, class_id: UUID, group_id: UUID, language: str) -> None:
    """Put the ladder's questions to a group in another language; Invalid beside `language`.

    A question that is open is put in it at once: whoever changes it has children before it who
    cannot read it. What was answered keeps its question as it was.
    """
    group = get_own_group(work, class_id, group_id)
    if language not in dict(QUESTION_LANGUAGES):
        what = Message(
            "groups.no_questions_in_this_language",
            languages=tuple(name for _, name in QUESTION_LANGUAGES),
        )
        raise Invalid.at("language", what)
    groups.set_question_language(work.session, group.id, language)
    classes.bump_version(work.session, class_id)


def get_own_group(work: Work, class_id: UUID, group_id: UUID) -> Group:
    """Return a group of the teacher's class; raise NotFound for any other."""
    get_own_class(work, class_id)
    group = groups.get_group(work.session, group_id)
    if group.class_id != class_id:
        message = Message("groups.no_such_group_in_this_class")
        raise NotFound(message)
    return group


def find_ungrouped(work: Work, class_id: UUID, present: Sequence[Group]) -> tuple[Student, ...]:
    """Return the students of the class who are in none of its groups, by nickname."""
    grouped = {member.student_id for group in present for member in group.present_members}
    here = _students_here(work, class_id)
    return tuple(student for student in here if student.id not in grouped)


def warn_of_size(members: int) -> Message | None:
    """Return what to say of a group's size, or None where it is three to five."""
    if members >= LEAST_MEMBERS:
        return None
    if not members:
        return Message("groups.nobody_is_in_this_group", least=LEAST_MEMBERS, most=MOST_MEMBERS)
    return Message(
        "groups.few_in_this_group", count=members, least=LEAST_MEMBERS, most=MOST_MEMBERS
    )


def _students_here(work: Work, class_id: UUID) -> tuple[Student, ...]:
    everybody = people.students_of_class(work.session, class_id)
    return tuple(student for student in everybody if not student.left)


def _add(
    work: Work,
    school_class: SchoolClass,
    present: Sequence[Group],
    student_ids: Sequence[UUID],
    name: str,
) -> Group:
    number = max((group.number for group in present), default=0) + 1
    group = groups.add_group(
        work.session,
        school_id=school_class.school_id,
        class_id=school_class.id,
        number=number,
        name=_check_name(name, present) if name.strip() else _next_name(school_class, present),
    )
    at = work.now()
    for student_id in student_ids:
        groups.leave_groups(work.session, student_id, at)
    groups.join_group(work.session, group, student_ids, at)
    return groups.get_group(work.session, group.id)


def _next_name(school_class: SchoolClass, present: Sequence[Group]) -> str:
    taken = {group.name.casefold() for group in present}
    names = get_group_names(school_class.language)
    free = (name for name in names if name.casefold() not in taken)
    return next(free, f"{names[0]} {len(present) + 1}")


def _check_name(name: str, others: Sequence[Group]) -> str:
    plain = " ".join(name.split())
    if not plain or len(plain) > LONGEST_NAME or not plain.isprintable():
        raise Invalid.at(
            "name", Message("groups.give_the_group_a_name_of_at_most", longest_name=LONGEST_NAME)
        )
    if plain.casefold() in {group.name.casefold() for group in others}:
        raise Invalid.at("name", Message("groups.group_called_already", plain=plain))
    return plain
