"""Practice sets: what counts towards one, which one is told, and what waits for the teacher's."""

from __future__ import annotations

from journal.domain.errors import Refused
from journal.domain.practice_sets import PracticeSet
from journal.domain.trials import TrialKind
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.services.practice_sets import (
    describe_practice,
    find_practice,
    plan_practice,
    require_practised,
)
from journal.store import classes
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.sentences import raises
from tests.services.trial_entries import entry_of, log


def _plan(
    store: Store, clock: StandingClock, room: Classroom, trials: int, *, by_teacher: bool = False
) -> PracticeSet:
    clock.move(minutes=1)
    with open_work(store, room.teacher, clock=clock) as work:
        context = get_group_context(work, room.group_ids[0])
        return plan_practice(work, context, trials, by_teacher=by_teacher)


def _log(store: Store, clock: StandingClock, room: Classroom, **changes: object) -> None:
    clock.move(seconds=30)
    log(store, clock, room.tablets[0], entry_of(room, clock, **changes))


def _told(store: Store, room: Classroom) -> str:
    with open_work(store, room.teacher, writing=False) as work:
        context = get_group_context(work, room.group_ids[0])
        return describe_practice(find_practice(work, context, gather_group(work, context).trials))


def _require(store: Store, room: Classroom) -> None:
    with open_work(store, room.tablets[0], writing=False) as work:
        require_practised(work, room.group_ids[0], room.challenge_id)


def test_a_set_counts_practice_from_its_start_on(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Trials before it do not count; a misfire does; the last one ends it."""
    _log(store, clock, classroom)
    assert "" == _told(store, classroom)
    _plan(store, clock, classroom, 3)
    assert "Practice set: 0 of 3." == _told(store, classroom)
    _log(store, clock, classroom)
    _log(store, clock, classroom, x_mm=None, y_mm=None, misfire="stuck")
    assert "Practice set: 2 of 3." == _told(store, classroom)
    _log(store, clock, classroom)
    assert "" == _told(store, classroom)


def test_a_counted_trial_is_no_practice(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A group's own set holds no counted trial back, and is not filled by it."""
    _plan(store, clock, classroom, 3)
    _log(store, clock, classroom, kind=TrialKind.COUNTED)
    assert "Practice set: 0 of 3." == _told(store, classroom)
    _require(store, classroom)


def test_the_teachers_set_stands_before_the_groups_own(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Whichever was planned later; then the own one is told again."""
    _plan(store, clock, classroom, 2, by_teacher=True)
    _plan(store, clock, classroom, 6)
    assert "Practice first: 0 of 2." == _told(store, classroom)
    _log(store, clock, classroom)
    _log(store, clock, classroom)
    assert "Practice set: 2 of 6." == _told(store, classroom)


def test_however_often_a_group_plans_the_teachers_set_is_told(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """It still holds counted trials back, so the tablet has to say so."""
    _plan(store, clock, classroom, 2, by_teacher=True)
    for trials in (6, 12):
        _plan(store, clock, classroom, trials)
    assert "Practice first: 0 of 2." == _told(store, classroom)


def test_of_two_own_sets_the_newer_is_told(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A group that plans again begins to count again."""
    _plan(store, clock, classroom, 12)
    _log(store, clock, classroom)
    _plan(store, clock, classroom, 6)
    assert "Practice set: 0 of 6." == _told(store, classroom)


def test_nothing_counts_before_the_teachers_practice_is_in(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The sentence says how many are in; the newest set is the one that holds."""
    _require(store, classroom)
    _plan(store, clock, classroom, 1, by_teacher=True)
    _log(store, clock, classroom)
    _require(store, classroom)
    _plan(store, clock, classroom, 2, by_teacher=True)
    _log(store, clock, classroom)
    with raises(Refused, match="asks for 2 practice trials first: 1 are in"):
        _require(store, classroom)
    with raises(Refused, match="practice trials first"):
        _log(store, clock, classroom, kind=TrialKind.COUNTED)
    _log(store, clock, classroom)
    _require(store, classroom)
    _log(store, clock, classroom, kind=TrialKind.COUNTED)


def test_a_set_is_news_for_the_overview(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The class's version counts it, and all of it is kept as planned."""
    with open_work(store, classroom.teacher, writing=False) as work:
        before = classes.find_version(work.session, classroom.class_id)
    kept = _plan(store, clock, classroom, 6, by_teacher=True)
    with open_work(store, classroom.teacher, writing=False) as work:
        after = classes.find_version(work.session, classroom.class_id)
        context = get_group_context(work, classroom.group_ids[0])
        assert (kept, 0) == find_practice(work, context, ())
        other = get_group_context(work, classroom.group_ids[1])
        assert find_practice(work, other, ()) is None
    assert before is not None
    assert before + 1 == after
