"""The students of a class."""

from __future__ import annotations

import pytest

from journal.domain.errors import Invalid, NotAllowed, NotFound
from journal.records.work import open_work
from journal.services.rosters import add_students, bring_student_back, let_student_leave
from journal.store import classes, groups, people
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.test_classes import another_teacher


def test_a_list_is_added_whole(store: Store, clock: StandingClock, classroom: Classroom) -> None:
    """Each line is a student of the class, and the overview has news."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        before = classes.find_version(work.session, classroom.class_id)
        added = add_students(work, classroom.class_id, "Pim\n\n7\n")
        assert ["Pim", "7"] == [student.nickname for student in added]
        assert {classroom.class_id} == {student.class_id for student in added}
        assert before != classes.find_version(work.session, classroom.class_id)


def test_nothing_is_added_by_halves(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """One bad line, and nobody is added: Ada is there already."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        with pytest.raises(Invalid):
            add_students(work, classroom.class_id, "Pim\nada")
        known = people.students_of_class(work.session, classroom.class_id)
    assert "Pim" not in {student.nickname for student in known}


def test_a_student_leaves_and_comes_back(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The membership ends and stays in the group's history; coming back starts in no group."""
    student_id = classroom.student_ids[0][0]
    with open_work(store, classroom.teacher, clock=clock) as work:
        let_student_leave(work, classroom.class_id, student_id)
        group = groups.get_group(work.session, classroom.group_ids[0])
        assert not group.has(student_id)
        assert student_id in {member.student_id for member in group.members}
        assert people.get_student(work.session, student_id).left
        bring_student_back(work, classroom.class_id, student_id)
        assert not people.get_student(work.session, student_id).left
        assert not groups.get_group(work.session, classroom.group_ids[0]).has(student_id)


def test_only_the_own_teacher_touches_the_list(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Another teacher's class is not found; a tablet is not allowed."""
    for actor, error in (
        (another_teacher(store, classroom), NotFound),
        (classroom.tablets[0], NotAllowed),
    ):
        with open_work(store, actor, clock=clock) as work:
            with pytest.raises(error):
                add_students(work, classroom.class_id, "Pim")
            with pytest.raises(error):
                let_student_leave(work, classroom.class_id, classroom.student_ids[0][0])
            with pytest.raises(error):
                bring_student_back(work, classroom.class_id, classroom.student_ids[0][0])
