"""Groups: dealt, made by hand, joined, left, renamed."""

from __future__ import annotations

from uuid import uuid4

import pytest

from journal.content.messages import word_message
from journal.domain.errors import Invalid, NotAllowed, NotFound, Refused
from journal.records.work import open_work
from journal.services.groups import (
    deal_groups,
    make_group,
    move_student,
    rename_group,
    warn_of_size,
)
from journal.services.rosters import add_students, let_student_leave
from journal.store import classes, groups
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.sentences import raises
from tests.services.test_classes import another_teacher


def test_students_without_a_group_are_dealt(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Groups that are there stay as they are; new ones go on counting, each with a name."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        add_students(work, classroom.class_id, "\n".join(f"P{n}" for n in range(9)))
        made = deal_groups(work, classroom.class_id)
        assert [5, 4] == [len(group.present_members) for group in made]
        everyone = groups.groups_of_class(work.session, classroom.class_id)
        assert [1, 2, 3, 4] == [group.number for group in everyone]
        assert 4 == len({group.name for group in everyone})
        assert [3, 4] == [len(group.present_members) for group in everyone[:2]]
        with raises(Refused, match="by hand"):
            deal_groups(work, classroom.class_id)


def test_a_group_is_made_by_hand(store: Store, clock: StandingClock, classroom: Classroom) -> None:
    """Whoever is chosen leaves the old group; its history keeps them."""
    (ada, *_), (dara, *_) = classroom.student_ids
    with open_work(store, classroom.teacher, clock=clock) as work:
        made = make_group(work, classroom.class_id, [ada, dara, ada], " Tool  box ")
        assert "Tool box" == made.name
        assert {ada, dara} == {member.student_id for member in made.present_members}
        old = groups.get_group(work.session, classroom.group_ids[0])
        assert not old.has(ada)
        assert ada in {member.student_id for member in old.members}


def test_a_group_needs_somebody_and_holds_five(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """No one and six are refused beside the tiles; a stranger is not found."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        six = [student.id for student in add_students(work, classroom.class_id, "1\n2\n3\n4\n5\n6")]
        for chosen in ([], six):
            with pytest.raises(Invalid) as refused:
                make_group(work, classroom.class_id, chosen)
            assert ["students"] == list(refused.value.by_field())
        with pytest.raises(NotFound):
            make_group(work, classroom.class_id, [uuid4()])
        full = make_group(work, classroom.class_id, six[:5])
        with raises(Refused, match="5 members already"):
            move_student(work, classroom.class_id, six[5], full.id)


def test_a_move_ends_one_membership_and_starts_another(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Both have their times; moving to where one is changes nothing; None takes out."""
    ada = classroom.student_ids[0][0]
    first, second = classroom.group_ids
    with open_work(store, classroom.teacher, clock=clock) as work:
        move_student(work, classroom.class_id, ada, first)
        clock.move(minutes=10)
        move_student(work, classroom.class_id, ada, second)
        old = next(
            member
            for member in groups.get_group(work.session, first).members
            if member.student_id == ada
        )
        new = next(
            member
            for member in groups.get_group(work.session, second).members
            if member.student_id == ada
        )
        assert old.left_at == new.joined_at
        assert old.joined_at < new.joined_at
        assert new.left_at is None
        move_student(work, classroom.class_id, ada, None)
        assert not groups.get_group(work.session, second).has(ada)
        let_student_leave(work, classroom.class_id, ada)
        with raises(Refused, match="left the class"):
            move_student(work, classroom.class_id, ada, first)


def test_a_name_is_not_empty_not_long_and_not_taken(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A group may keep its own name in other letters."""
    first, second = classroom.group_ids
    with open_work(store, classroom.teacher, clock=clock) as work:
        rename_group(work, classroom.class_id, first, "Heron")
        rename_group(work, classroom.class_id, first, "HERON")
        assert "HERON" == groups.get_group(work.session, first).name
        for name in ("", "n" * 41, "heron"):
            with pytest.raises(Invalid) as refused:
                rename_group(work, classroom.class_id, second, name)
            assert ["name"] == list(refused.value.by_field())


def test_small_groups_are_named_not_refused() -> None:
    """Three to five say nothing; fewer is told in words."""
    assert [None, None] == [warn_of_size(3), warn_of_size(5)]
    assert "Nobody is in this group. 3 to 5 work best." == word_message(warn_of_size(0) or "")
    assert word_message(warn_of_size(1) or "").startswith("Only 1 student is")
    assert word_message(warn_of_size(2) or "").startswith("Only 2 students are")


def test_only_the_own_teacher_touches_groups(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Another teacher's class is not found; a tablet may not even rename its own group."""
    class_id, group_id, ada = (
        classroom.class_id,
        classroom.group_ids[0],
        classroom.student_ids[0][0],
    )
    for actor, error in (
        (another_teacher(store, classroom), NotFound),
        (classroom.tablets[0], NotAllowed),
    ):
        with open_work(store, actor, clock=clock) as work:
            with pytest.raises(error):
                deal_groups(work, class_id)
            with pytest.raises(error):
                make_group(work, class_id, [ada])
            with pytest.raises(error):
                move_student(work, class_id, ada, None)
            with pytest.raises(error):
                rename_group(work, class_id, group_id, "Wren")


def test_each_move_is_news_for_the_overview(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A child who joins or leaves is seen at once; one who stays where it is is no news."""
    ada = classroom.student_ids[0][0]
    versions = []
    with open_work(store, classroom.teacher, clock=clock) as work:
        for group_id in (classroom.group_ids[0], classroom.group_ids[1], None):
            move_student(work, classroom.class_id, ada, group_id)
            versions.append(classes.find_version(work.session, classroom.class_id) or 0)
    assert [0, 1, 2] == [version - versions[0] for version in versions]
