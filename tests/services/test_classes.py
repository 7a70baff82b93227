"""Making a class and setting its door."""

from __future__ import annotations

from datetime import timedelta

import pytest

from journal.domain.actors import NOBODY, OPERATOR, Actor, Role
from journal.domain.classes import Door, GradeBand
from journal.domain.errors import Invalid, NotAllowed, NotFound, SignedOut
from journal.records.work import open_work
from journal.services.classes import (
    get_own_class,
    make_class,
    set_door,
)
from journal.store import classes
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories import rows
from tests.factories.classrooms import Classroom
from tests.factories.people import TeacherFactory
from tests.sentences import raises, what_of

ENTERED = {"name": " 6B  blue ", "band": "6-8", "language": "en", "retention_date": "2031-07-31"}


def another_teacher(store: Store, classroom: Classroom) -> Actor:
    """Return a teacher of the same school who has no class."""
    with store.open_session(writing=True) as session:
        rows.bind(session)
        teacher_id = TeacherFactory(school_id=classroom.school_id).id
    return Actor(role=Role.TEACHER, school_id=classroom.school_id, teacher_id=teacher_id)


def test_a_class_is_made_for_the_teacher_who_asks(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Spaces are tidied, the door starts open, and it is the teacher's own."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        made = make_class(work, ENTERED)
        assert made == get_own_class(work, made.id)
    assert ("6B blue", GradeBand.SIX_TO_EIGHT, Door.OPEN) == (made.name, made.band, made.door)
    assert classroom.teacher_id == made.teacher_id


@pytest.mark.parametrize(
    ("change", "field", "word"),
    [
        ({"name": " "}, "name", "Give the class a name"),
        ({"name": "x" * 61}, "name", "at most 60"),
        ({"band": "9-12"}, "band", "Choose the grades"),
        ({"language": "xx"}, "language", "Choose one of the languages"),
        ({"retention_date": ""}, "retention_date", "Choose the day"),
        ({"retention_date": "31.7.2031"}, "retention_date", "year-month-day"),
        ({"retention_date": "2029-03-04"}, "retention_date", "Choose a date from today on."),
        ({"retention_date": "2037-03-04"}, "keep_long", "more than 6 years"),
    ],
)
def test_what_cannot_be_taken_is_told_beside_its_field(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    change: dict[str, str],
    field: str,
    word: str,
) -> None:
    """One sentence beside the field, and no class is made."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        with pytest.raises(Invalid) as refused:
            make_class(work, ENTERED | change)
        assert [field] == list(refused.value.by_field())
        assert word in what_of(refused.value.problems[0])
        made = classes.classes_of_teacher(work.session, classroom.teacher_id)
        assert [classroom.class_id] == [one.id for one in made]


def test_today_is_taken_and_a_long_time_when_it_is_meant(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The first day that is allowed is today; more than six years needs a tick."""
    today = clock.time.astimezone().date()
    with open_work(store, classroom.teacher, clock=clock) as work:
        make_class(work, ENTERED | {"name": "A", "retention_date": today.isoformat()})
        make_class(
            work, ENTERED | {"name": "B", "retention_date": "2037-01-01", "keep_long": "yes"}
        )
        yesterday = (today - timedelta(days=1)).isoformat()
        with pytest.raises(Invalid):
            make_class(work, ENTERED | {"name": "C", "retention_date": yesterday})


def test_two_classes_of_a_teacher_never_share_a_name(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Not in capitals either; another teacher may use it."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        make_class(work, ENTERED)
        with raises(Invalid, match="not made yet"):
            make_class(work, ENTERED | {"name": "6b BLUE"})
    with open_work(store, another_teacher(store, classroom), clock=clock) as work:
        assert "6B blue" == make_class(work, ENTERED).name


def test_the_door_is_set_by_its_own_teacher_only(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Another teacher's class is not found, a tablet is not allowed, nobody is signed out."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        set_door(work, classroom.class_id, "knock")
        assert Door.KNOCK is get_own_class(work, classroom.class_id).door
        with pytest.raises(Invalid):
            set_door(work, classroom.class_id, "ajar")
    refusals = {
        another_teacher(store, classroom): NotFound,
        classroom.tablets[0]: NotAllowed,
        NOBODY: SignedOut,
    }
    for actor, error in refusals.items():
        with open_work(store, actor, clock=clock) as work, pytest.raises(error):
            set_door(work, classroom.class_id, "open")


def test_only_a_teacher_makes_a_class(store: Store, classroom: Classroom) -> None:
    """Neither a tablet nor the terminal has classes of its own."""
    for actor, error in {
        NOBODY: SignedOut,
        classroom.tablets[0]: NotAllowed,
        OPERATOR: NotAllowed,
    }.items():
        with open_work(store, actor) as work, pytest.raises(error):
            make_class(work, ENTERED)
