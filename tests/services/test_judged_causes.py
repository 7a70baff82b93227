"""What a cause turned out to be: kept beside what the journal said then."""

from __future__ import annotations

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.diagnoses import JudgedCause, Reading
from journal.domain.errors import Invalid, NotAllowed, NotFound
from journal.records.work import open_work
from journal.services.judged_causes import judge_cause
from journal.store import classes, diagnoses
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom


def _kept(store: Store, room: Classroom) -> tuple[JudgedCause, ...]:
    with open_work(store, OPERATOR, writing=False) as work:
        return tuple(diagnoses.judged_causes_of_class(work.session, room.class_id))


@pytest.mark.parametrize("turned_out", ["device", "use", "both", "none"])
def test_it_is_kept_with_what_the_journal_said(
    store: Store, clock: StandingClock, classroom: Classroom, turned_out: str
) -> None:
    """Without trials the journal could not tell: that is kept, too, with who marked it and when."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        judged = judge_cause(work, classroom.group_ids[0], turned_out, "  The rail was bent. ")
    assert (judged,) == _kept(store, classroom)
    assert Reading(turned_out) is judged.turned_out
    assert (Reading.CANNOT_TELL, 0) == (judged.said, judged.trials)
    assert "The rail was bent." == judged.note
    assert classroom.teacher_id == judged.teacher_id
    assert (classroom.group_ids[0], classroom.challenge_id) == (
        judged.group_id,
        judged.challenge_id,
    )
    assert judged.judged_at <= clock()


def test_a_second_mark_stands_beside_the_first(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The record of how often the journal was right grows; each is news for the overview."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        before = classes.find_version(work.session, classroom.class_id)
        for turned_out in ("use", "device"):
            judge_cause(work, classroom.group_ids[0], turned_out)
        after = classes.find_version(work.session, classroom.class_id)
    assert [Reading.USE, Reading.DEVICE] == [one.turned_out for one in _kept(store, classroom)]
    assert before is not None
    assert before + 2 == after


@pytest.mark.parametrize(
    ("turned_out", "note", "field"),
    [
        ("", "", "turned_out"),
        ("cannot tell", "", "turned_out"),
        ("weather", "", "turned_out"),
        ("use", "n" * 301, "note"),
    ],
)
def test_what_is_no_cause_or_too_long_is_told_at_its_field(
    store: Store, classroom: Classroom, turned_out: str, note: str, field: str
) -> None:
    """Nothing is kept; 300 letters of a note are."""
    with (
        open_work(store, classroom.teacher) as work,
        pytest.raises(Invalid) as caught,
    ):
        judge_cause(work, classroom.group_ids[0], turned_out, note)
    assert [field] == list(caught.value.by_field())
    assert () == _kept(store, classroom)
    with open_work(store, classroom.teacher) as work:
        assert 300 == len(judge_cause(work, classroom.group_ids[0], "use", "n" * 300).note)


def test_only_the_own_teacher_marks_it(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Not the group, not another class's teacher."""
    with open_work(store, OPERATOR, clock=clock) as work:
        other = make_classroom(work.session, clock())
    for actor, error in ((classroom.tablets[0], NotAllowed), (other.teacher, NotFound)):
        with open_work(store, actor) as work, pytest.raises(error):
            judge_cause(work, classroom.group_ids[0], "use")
    assert () == _kept(store, classroom)
