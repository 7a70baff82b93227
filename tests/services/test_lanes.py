"""The lane: closed by a tap or a near-miss, opened by the whole checklist, and what is marked."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import replace
from datetime import timedelta

import pytest
import sqlalchemy as sa

from journal.domain.actors import OPERATOR
from journal.domain.errors import Invalid, NotFound
from journal.domain.needs import NeedKind
from journal.domain.sessions import LAUNCHING_CHECKS, CloseReason, LaneState
from journal.records.work import open_work
from journal.screens.desk.overviews import prepare_overview
from journal.screens.lanes import view_checklist, view_switch
from journal.services.lanes import close_lane, find_lane
from journal.services.sessions import end_session, open_gate
from journal.services.visits import log_near_miss, log_visit
from journal.store import classes, sessions
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.sentences import raises
from tests.services.trial_entries import entry_of, log

EVERY_LINE = [check.value for check in LAUNCHING_CHECKS]


def lane_of(store: Store, room: Classroom, group: int = 0) -> LaneState:
    """Return what the tablet of a group is told."""
    with open_work(store, room.tablets[group], writing=False) as work:
        return find_lane(work, room.group_ids[group])[1]


def close(store: Store, clock: StandingClock, room: Classroom) -> None:
    """Close the lane by the teacher's tap."""
    with open_work(store, room.teacher, clock=clock) as work:
        close_lane(work, room.session_id)


def test_tap_closes_the_lane_and_the_checklist_opens_it_again(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Opening it asks each line of the gate again; every time it was open is kept."""
    assert LaneState.OPEN is lane_of(store, classroom)
    close(store, clock, classroom)
    assert LaneState.CLOSED is lane_of(store, classroom)

    with open_work(store, classroom.teacher, clock=clock) as work:
        with raises(Invalid, match="until each line"):
            open_gate(work, classroom.session_id, EVERY_LINE[:-1])
        open_gate(work, classroom.session_id, EVERY_LINE)

    assert LaneState.OPEN is lane_of(store, classroom)
    with open_work(store, OPERATOR, writing=False) as work:
        kept = work.session.scalars(
            sa.select(sessions.GateRow).order_by(sessions.GateRow.opened_at)
        ).all()
        assert [(CloseReason.TEACHER, True), (None, False)] == [
            (row.closed_by, row.closed_at is not None) for row in kept
        ]


def test_near_miss_closes_the_lane(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """At any group: whatever nearly happened, nobody launches until the teacher opens again."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        log_near_miss(work, classroom.group_ids[1])

    assert LaneState.CLOSED is lane_of(store, classroom)
    with open_work(store, classroom.teacher, clock=clock, writing=False) as work:
        session = sessions.get_session(work.session, classroom.session_id)
        switch = view_switch(session, classroom.challenge, "en")
    assert switch is not None
    assert not switch.is_open
    assert switch.since.endswith("near-miss")


def test_checklist_ticked_before_a_near_miss_opens_nothing(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Two screens: lines looked at before it was closed once more are void."""
    close(store, clock, classroom)
    with open_work(store, classroom.teacher, clock=clock) as work:
        session = sessions.get_session(work.session, classroom.session_id)
        before = view_checklist(session, classroom.challenge, "en", ())
        assert before is not None
        open_gate(work, classroom.session_id, EVERY_LINE, before.seen)
        log_near_miss(work, classroom.group_ids[0])
        with raises(Invalid, match="closed again"):
            open_gate(work, classroom.session_id, EVERY_LINE, before.seen)

    assert LaneState.CLOSED is lane_of(store, classroom)


def test_closing_twice_is_news_once(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The overview hears of the first tap; a second one, or one after the end, does nothing."""
    for _ in range(2):
        close(store, clock, classroom)
    with open_work(store, OPERATOR, writing=False) as work:
        assert 1 == classes.find_version(work.session, classroom.class_id)
    with open_work(store, classroom.teacher, clock=clock) as work:
        end_session(work, classroom.session_id)
        close_lane(work, classroom.session_id)


def test_closed_lane_stops_no_logging_and_marks_what_was_launched_after(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """By its corrected time: before the close it is as any other, after it it is marked."""
    early = entry_of(classroom, clock)
    clock.move(seconds=10)
    close(store, clock, classroom)
    clock.move(seconds=20)
    wrong = timedelta(hours=-7)
    late = entry_of(classroom, clock, logged_at=clock() + wrong)

    before = log(store, clock, classroom.tablets[0], replace(early, sent_at=clock()))
    after = log(store, clock, classroom.tablets[0], replace(late, sent_at=clock() + wrong))

    assert (False, True) == (before.lane_closed, after.lane_closed)


def test_teacher_is_sent_to_a_group_that_launched_past_a_closed_lane_until_the_visit(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The mark stands in the list of visits right behind a near-miss."""
    close(store, clock, classroom)
    for _ in range(2):
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock))

    with open_work(store, classroom.teacher, clock=clock) as work:
        first = prepare_overview(work, classroom.class_id).needs[0]
        assert (classroom.group_ids[0], NeedKind.LANE_CLOSED) == (first.group_id, first.kind)
        assert "2 trials while the lane was closed" in first.reason
        log_visit(work, classroom.group_ids[0])
        after = prepare_overview(work, classroom.class_id).needs
    assert NeedKind.LANE_CLOSED not in {need.kind for need in after}


def test_lane_is_asked_for_by_its_own_tablets_with_one_query(
    store: Store,
    classroom: Classroom,
    count_queries: Callable[[], AbstractContextManager[list[str]]],
) -> None:
    """Forty tablets ask every two seconds."""
    with open_work(store, classroom.tablets[0], writing=False) as work, count_queries() as asked:
        find_lane(work, classroom.group_ids[0])
    assert 1 == len(asked)
    with open_work(store, classroom.tablets[0], writing=False) as work, pytest.raises(NotFound):
        find_lane(work, classroom.group_ids[1])


def test_new_session_starts_closed_and_without_one_nothing_is_open(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """What was open in the lesson before is not open now."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        end_session(work, classroom.session_id)
    assert LaneState.NONE is lane_of(store, classroom)
