"""The students of a class: added by pasting a list, leaving, coming back."""

from __future__ import annotations

from uuid import UUID

from journal.domain.classes import SchoolClass
from journal.domain.errors import NotFound
from journal.domain.messages import Message
from journal.domain.people import Student
from journal.domain.rosters import read_roster
from journal.records.work import Work
from journal.services.classes import get_own_class
from journal.store import classes, groups, people


def add_students(work: Work, class_id: UUID, text: str) -> tuple[Student, ...]:
    """Add the students of a pasted list, one nickname or number a line, or nobody at all.

    Raises Invalid with one Problem a line that cannot be taken.
    """
    school_class = get_own_class(work, class_id)
    known = people.students_of_class(work.session, class_id)
    nicknames = read_roster(
        text,
        present=[student.nickname for student in known if not student.left],
        former=[student.nickname for student in known if student.left],
    )
    added = people.add_students(work.session, school_class.school_id, class_id, nicknames)
    classes.bump_version(work.session, class_id)
    return added


def let_student_leave(work: Work, class_id: UUID, student_id: UUID) -> Student:
    """Note that a student left the class and its group; what was entered stays."""
    _, student = get_own_student(work, class_id, student_id)
    groups.leave_groups(work.session, student_id, work.now())
    people.mark_student_left(work.session, student_id, work.now())
    classes.bump_version(work.session, class_id)
    return student


def bring_student_back(work: Work, class_id: UUID, student_id: UUID) -> Student:
    """Note that a student who left is in the class again, in no group yet."""
    _, student = get_own_student(work, class_id, student_id)
    people.mark_student_left(work.session, student_id, None)
    classes.bump_version(work.session, class_id)
    return student


def get_own_student(work: Work, class_id: UUID, student_id: UUID) -> tuple[SchoolClass, Student]:
    """Return the teacher's class and a student of it; raise NotFound for any other."""
    school_class = get_own_class(work, class_id)
    student = people.get_student(work.session, student_id)
    if student.class_id != class_id:
        message = Message("people.no_such_student_in_this_class")
        raise NotFound(message)
    return school_class, student
