"""Trials that come late or from a tablet with a wrong clock: where they belong."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest

from journal.content.clock_words import describe_clock
from journal.domain.actors import OPERATOR
from journal.records.work import open_work
from journal.screens.desk.corrections import prepare_correction
from journal.services.trials import log_trial
from journal.store import sessions
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.trial_entries import entry_of, log


def start_second_session(store: Store, clock: StandingClock, room: Classroom) -> None:
    """End the session, let a day pass, start the next one 1 m farther away, gate open."""
    with open_work(store, OPERATOR, clock=clock) as work:
        sessions.end_session(work.session, room.session_id, clock())
    clock.move(days=1)
    with open_work(store, OPERATOR, clock=clock) as work:
        first = sessions.get_session(work.session, room.session_id)
        work.session.add(
            sessions.SessionRow(
                school_id=room.school_id,
                class_id=room.class_id,
                challenge_id=room.challenge_id,
                number=2,
                started_at=clock(),
                distance_mm=(first.distance_mm or 0) + 1000,
                panel=first.panel,
                lanes=1,
            )
        )
        work.session.flush()
        second = sessions.find_running(work.session, room.class_id)
        assert second is not None
        assert first.gate is not None
        gate = replace(first.gate, opened_at=clock())
        sessions.add_gate(work.session, room.school_id, second.id, gate)


@pytest.mark.parametrize("year", [2000, 2199, 0])
def test_wrong_clock_files_nothing_under_the_session_before(
    store: Store, clock: StandingClock, classroom: Classroom, year: int
) -> None:
    """A day slow, or years: a trial of now belongs to the session of now, with its distance."""
    start_second_session(store, clock, classroom)
    clock.move(minutes=10)
    claimed = datetime(year, 5, 1, tzinfo=UTC) if year else clock() - timedelta(days=1)
    entry = entry_of(classroom, clock, logged_at=claimed, sent_at=claimed)

    trial = log(store, clock, classroom.tablets[0], entry)

    with open_work(store, OPERATOR, writing=False) as work:
        second = sessions.find_running(work.session, classroom.class_id)
    assert second is not None
    assert (second.id, second.distance_mm) == (trial.session_id, trial.distance_mm)
    assert trial.received_at == trial.logged_at
    assert round((trial.received_at - claimed).total_seconds()) == trial.clock_slow_s


def test_entry_that_waited_on_a_slow_tablet_belongs_where_it_was_made(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Half an hour in the queue of a tablet that is a day fast: the session before is right."""
    clock.move(minutes=40)
    fast = timedelta(days=1)
    made_at = clock()
    entry = entry_of(classroom, clock, logged_at=made_at + fast)
    clock.move(minutes=5)
    start_second_session(store, clock, classroom)

    sent = replace(entry, sent_at=clock() + fast)
    trial = log(store, clock, classroom.tablets[0], sent)

    assert classroom.session_id == trial.session_id
    assert abs(trial.logged_at - made_at) < timedelta(seconds=1)


def test_sending_again_at_another_time_is_the_same_trial(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """What the clock says as it sends is no part of what is sent."""
    entry, trial_id = entry_of(classroom, clock), uuid4()
    first = log(store, clock, classroom.tablets[0], replace(entry, sent_at=clock()), trial_id)
    clock.move(minutes=3)

    for sent_at in (clock(), clock() - timedelta(days=9), None):
        with open_work(store, classroom.tablets[0], clock=clock) as work:
            again = log_trial(work, trial_id, replace(entry, sent_at=sent_at))
        assert (False, True, first) == (again.added, again.same_content, again.trial)


def test_teacher_reads_that_the_clock_was_put_right(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The time on the page is ours, and the page says why it is not the tablet's."""
    entry = entry_of(classroom, clock, logged_at=datetime(2000, 1, 1, tzinfo=UTC))
    sent = replace(entry, sent_at=entry.logged_at)
    trial = log(store, clock, classroom.tablets[0], sent)

    with open_work(store, classroom.teacher, clock=clock, writing=False) as work:
        told = prepare_correction(work, trial.id).frame.what

    assert "the tablet’s clock was 11,020 days slow, so the time was put right" in told


@pytest.mark.parametrize(
    ("slow_s", "told"),
    [(0, ""), (59, ""), (-60, "1 minute fast"), (5_400, "2 hours slow"), (86_400, "1 day slow")],
)
def test_clock_is_told_in_round_words(slow_s: int, told: str) -> None:
    """Less than a minute is not worth a word."""
    words = describe_clock(slow_s, "en")

    assert told in words
    assert bool(told) == bool(words)
