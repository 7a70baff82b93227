"""Trials that come late and belong nowhere: parked, placed, discarded, and never lost."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from uuid import UUID, uuid4

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.errors import Conflict, GateShut, Invalid, NotFound, Refused
from journal.domain.parked_trials import ParkedTrial, ParkReason, ParkState
from journal.domain.sessions import LAUNCHING_CHECKS
from journal.domain.trial_fields import describe_content, read_content
from journal.domain.trials import TrialEntry, TrialKind
from journal.records.work import open_work
from journal.screens.desk.overviews import prepare_overview
from journal.screens.desk.parked_trials import prepare_parked
from journal.screens.desk.sessions import prepare_session
from journal.services.parked_trials import (
    discard_trial,
    place_trial,
    take_entry,
)
from journal.services.sessions import end_session, open_gate, start_session
from journal.store import groups, sessions, trials
from journal.store.engine import Store
from journal.store.trials import Kept
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.sentences import raises
from tests.services.trial_entries import entry_of

EVERY_LINE = [check.value for check in LAUNCHING_CHECKS]


def take(
    store: Store,
    clock: StandingClock,
    room: Classroom,
    entry: TrialEntry,
    trial_id: UUID | None = None,
) -> Kept | ParkedTrial:
    """Send one entry from the queue of the first group's tablet."""
    sent = replace(entry, sent_at=clock())
    with open_work(store, room.tablets[0], clock=clock) as work:
        return take_entry(work, trial_id or uuid4(), sent)


def end(store: Store, clock: StandingClock, room: Classroom) -> None:
    """End the session that runs."""
    with open_work(store, room.teacher, clock=clock) as work:
        running = sessions.find_running(work.session, room.class_id)
        assert running is not None
        end_session(work, running.id)


def start(store: Store, clock: StandingClock, room: Classroom, distance: str = "3 m") -> UUID:
    """Start the next session, gate shut."""
    with open_work(store, room.teacher, clock=clock) as work:
        return start_session(
            work,
            room.class_id,
            challenge_id=room.challenge_id,
            distance=distance,
            lanes="1",
        ).id


def kept_of(store: Store, room: Classroom) -> int:
    """Return how many trials the first group has, in whatever session."""
    with open_work(store, OPERATOR, writing=False) as work:
        held = sessions.sessions_of_class(work.session, room.class_id)
        ids = [one.id for one in held]
        return len(trials.trials_of_groups(work.session, room.group_ids[:1], ids))


@pytest.fixture
def parked(store: Store, clock: StandingClock, classroom: Classroom) -> ParkedTrial:
    """Return an entry made in the break between two sessions, which came in the second."""
    end(store, clock, classroom)
    clock.move(minutes=5)
    entry = entry_of(classroom, clock)
    clock.move(minutes=20)
    second = start(store, clock, classroom)
    with open_work(store, classroom.teacher, clock=clock) as work:
        open_gate(work, second, EVERY_LINE)
    clock.move(minutes=1)
    found = take(store, clock, classroom, entry)
    assert isinstance(found, ParkedTrial)
    return found


def test_entry_of_the_break_is_no_trial_of_the_session_that_runs_now(
    store: Store, classroom: Classroom, parked: ParkedTrial
) -> None:
    """It waited, lies in no session, and is filed under none."""
    assert (ParkReason.NO_SESSION, ParkState.WAITING) == (parked.why, parked.state)
    assert 0 == kept_of(store, classroom)


def test_entry_made_before_the_gate_is_parked_though_it_is_open_now(
    store: Store, clock: StandingClock
) -> None:
    """A queue is no way past a shut gate."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), gate_open=False)
    entry = entry_of(room, clock)
    clock.move(minutes=10)
    assert ParkReason.BEFORE_GATE is getattr(take(store, clock, room, entry), "why", None)
    with open_work(store, room.teacher, clock=clock) as work:
        open_gate(work, room.session_id, EVERY_LINE)
    clock.move(minutes=10)

    assert ParkReason.BEFORE_GATE is getattr(take(store, clock, room, entry), "why", None)


def test_entry_of_now_is_refused_as_ever(store: Store, clock: StandingClock) -> None:
    """Parking is for what waited: who stands before a shut gate or no session is told so."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), gate_open=False)
    with pytest.raises(GateShut):
        take(store, clock, room, entry_of(room, clock))
    end(store, clock, room)
    clock.move(minutes=5)
    with raises(Refused, match="has not started a session"):
        take(store, clock, room, entry_of(room, clock))


def test_sent_again_it_is_parked_once_and_other_content_is_a_conflict(
    store: Store, clock: StandingClock, classroom: Classroom, parked: ParkedTrial
) -> None:
    """A tablet that did not hear the answer sends it again, with a later clock."""
    clock.move(minutes=7)
    again = take(store, clock, classroom, parked.entry, parked.id)
    assert isinstance(again, ParkedTrial)
    assert parked.made_at == again.made_at
    with pytest.raises(Conflict):
        take(store, clock, classroom, replace(parked.entry, x_mm=77.0), parked.id)


def test_teacher_places_it_in_the_session_it_belongs_to(
    store: Store, clock: StandingClock, classroom: Classroom, parked: ParkedTrial
) -> None:
    """With that session's distance and its own time; sent again, it is that trial."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        trial = place_trial(work, parked.id, classroom.session_id)
        first = sessions.get_session(work.session, classroom.session_id)

    assert (classroom.session_id, first.distance_mm) == (trial.session_id, trial.distance_mm)
    assert (parked.made_at, parked.received_at) == (trial.logged_at, trial.received_at)
    again = take(store, clock, classroom, parked.entry, parked.id)
    assert isinstance(again, Kept)
    assert trial == again.trial
    with (
        open_work(store, classroom.teacher, clock=clock) as work,
        raises(Refused, match="was placed already"),
    ):
        discard_trial(work, parked.id, "no")


def test_discarded_it_stays_with_the_reason_and_comes_back_by_no_sending(
    store: Store, clock: StandingClock, classroom: Classroom, parked: ParkedTrial
) -> None:
    """Without a reason it waits on."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        with pytest.raises(Invalid):
            discard_trial(work, parked.id, "  ")
        discard_trial(work, parked.id, "They played after the lesson.")

    again = take(store, clock, classroom, parked.entry, parked.id)
    assert isinstance(again, ParkedTrial)
    assert ParkState.DISCARDED is again.state
    assert 0 == kept_of(store, classroom)
    with open_work(store, classroom.teacher, clock=clock, writing=False) as work:
        page = prepare_parked(work, classroom.class_id)
    assert () == page.waiting
    assert "They played after the lesson." in page.decided[0].decided


def test_page_offers_the_nearest_session_and_says_what_the_entry_is(
    store: Store, clock: StandingClock, classroom: Classroom, parked: ParkedTrial
) -> None:
    """Five minutes after the first session and 20 before the second: the first is chosen."""
    with open_work(store, classroom.teacher, clock=clock, writing=False) as work:
        page = prepare_parked(work, classroom.class_id)

    line = page.waiting[0]
    assert ("Ada", "Blaze, 8 points, practice") == (line.who, line.words)
    assert str(classroom.session_id) == line.chosen
    assert 2 == len(line.sessions)


def test_overview_and_session_page_say_that_something_waits(
    store: Store, clock: StandingClock, classroom: Classroom, parked: ParkedTrial
) -> None:
    """Until it is decided."""
    told = "1 trial came late and waits for you to place it."
    with open_work(store, classroom.teacher, clock=clock) as work:
        assert told == prepare_overview(work, classroom.class_id).late
        assert told == prepare_session(work, classroom.session_id).late
        place_trial(work, parked.id, classroom.session_id)
        assert "" == prepare_overview(work, classroom.class_id).late


def test_counted_entry_may_be_placed_as_practice(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """An attempt that nobody saw does not have to count."""
    end(store, clock, classroom)
    clock.move(minutes=5)
    entry = entry_of(classroom, clock, kind=TrialKind.COUNTED)
    clock.move(minutes=20)
    found = take(store, clock, classroom, entry)
    assert isinstance(found, ParkedTrial)

    with open_work(store, classroom.teacher, clock=clock) as work:
        trial = place_trial(work, found.id, classroom.session_id, "practice")

    assert TrialKind.PRACTICE is trial.kind


def test_what_fits_nowhere_is_refused_to_the_tablet_not_parked(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """An unknown name, part or way of use could never be placed: the tablet says so instead."""
    end(store, clock, classroom)
    clock.move(minutes=5)
    entry = entry_of(classroom, clock)
    clock.move(minutes=20)
    for field, changes in (
        ("student_id", {"student_id": uuid4()}),
        ("revision_ids", {"revision_ids": (uuid4(),)}),
        ("handling", {"handling": {"pull": "thrice"}}),
        ("place", {"x_mm": 9_999.0}),
    ):
        with pytest.raises(Invalid) as caught:
            take(store, clock, classroom, replace(entry, **changes))  # type: ignore[arg-type]
        assert [field] == [name.split(".")[0] for name in caught.value.by_field()]


def test_another_teacher_finds_no_such_entry(
    store: Store, clock: StandingClock, classroom: Classroom, parked: ParkedTrial
) -> None:
    """Nor does a tablet."""
    stranger = replace(classroom.teacher, teacher_id=uuid4())
    with open_work(store, stranger, clock=clock) as work:
        with pytest.raises(NotFound):
            place_trial(work, parked.id, classroom.session_id)
        with pytest.raises(NotFound):
            discard_trial(work, parked.id, "mine")


def test_session_of_another_class_takes_nothing(
    store: Store, clock: StandingClock, classroom: Classroom, parked: ParkedTrial
) -> None:
    """The place is one of the group's own class."""
    with open_work(store, OPERATOR, clock=clock) as work:
        other = make_classroom(work.session, clock())
    with open_work(store, classroom.teacher, clock=clock) as work, pytest.raises(NotFound):
        place_trial(work, parked.id, other.session_id)


def test_entry_is_read_back_as_it_was_sent(classroom: Classroom, clock: StandingClock) -> None:
    """Nothing is lost on the way to the database and back."""
    for entry in (
        entry_of(classroom, clock, amount=2.0, handling={"pull": "half"}),
        entry_of(classroom, clock, x_mm=None, y_mm=None, misfire="stuck"),
    ):
        again = read_content(describe_content(entry))
        assert set(entry.revision_ids) == set(again.revision_ids)
        assert entry == replace(again, revision_ids=entry.revision_ids)


def test_child_that_left_before_it_came_is_still_named(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """What waited was made while the child was there."""
    end(store, clock, classroom)
    clock.move(minutes=5)
    entry = entry_of(classroom, clock)
    clock.move(minutes=5)
    with open_work(store, OPERATOR, clock=clock) as work:
        groups.leave_groups(work.session, classroom.student_ids[0][0], clock())
    clock.move(minutes=5)

    found = take(store, clock, classroom, entry)

    assert isinstance(found, ParkedTrial)
    with open_work(store, classroom.teacher, clock=clock) as work:
        trial = place_trial(work, found.id, classroom.session_id)
    assert classroom.student_ids[0][0] == trial.student_id
    assert trial.logged_at - entry.logged_at < timedelta(seconds=1)
