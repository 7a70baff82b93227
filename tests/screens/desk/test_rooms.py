"""Who is in the room of a session, and what practice each child has had."""

from __future__ import annotations

from collections import Counter

from journal.domain.trials import TrialKind
from journal.records.work import open_work
from journal.screens.desk.sessions import prepare_session
from journal.services.lesson_words import make_lesson_word
from journal.services.sessions import end_session, set_absent
from journal.services.tablets import come_in
from journal.store import trials
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.stories import tell_story


def test_each_child_has_its_own_practice(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """As many trials as were logged for it; one who is absent is marked."""
    tell_story(store, clock, classroom)
    absent = classroom.student_ids[1][0]
    with open_work(store, classroom.teacher, clock=clock) as work:
        set_absent(work, classroom.session_id, [absent])
        room = prepare_session(work, classroom.session_id).room
        logged = trials.trials_of_groups(work.session, classroom.group_ids, [classroom.session_id])
    assert room is not None
    first, second = room.groups
    practice = Counter(
        trial.student_id
        for trial in logged
        if trial.kind is TrialKind.PRACTICE and trial.state.is_usable
    )
    assert 0 < practice.total() < len(logged)
    assert [practice[student_id] for student_id in classroom.student_ids[0]] == [
        member.trials for member in first.members
    ]
    assert {0} == {member.trials for member in second.members}
    assert [True, False, False, False] == [member.is_absent for member in second.members]


def test_a_group_is_in_with_its_tablet_and_an_ended_session_has_no_room(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The place of a group is solid from the first tablet on."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        word = make_lesson_word(work, classroom.class_id)
        come_in(work, word, classroom.group_ids[1], classroom.student_ids[1][0])
    with open_work(store, classroom.teacher, clock=clock) as work:
        room = prepare_session(work, classroom.session_id).room
        assert room is not None
        assert ("1 of 2 groups are in", [False, True]) == (
            room.heading,
            [group.is_in for group in room.groups],
        )
        end_session(work, classroom.session_id)
        assert prepare_session(work, classroom.session_id).room is None
