"""Parked trials that are sent again, taken back, or of somebody else's parts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.errors import Invalid, NotAllowed, NotFound
from journal.domain.parked_trials import ParkedTrial, ParkState
from journal.domain.trials import TrialKind
from journal.records.work import open_work
from journal.screens.desk.parked_trials import prepare_parked
from journal.services.parked_trials import take_back_entry, take_entry
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.sentences import raises
from tests.services.test_parked_trials import end, kept_of, parked, take
from tests.services.trial_entries import entry_of

__all__ = ["parked"]


def test_parked_entry_stays_parked_when_the_clock_of_the_tablet_was_put_right(
    store: Store, clock: StandingClock, classroom: Classroom, parked: ParkedTrial
) -> None:
    """Its answer was not heard, and by the next sending it seems to be of the running session."""
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        again = take_entry(work, parked.id, replace(parked.entry, sent_at=parked.entry.logged_at))
    assert again == parked
    assert 0 == kept_of(store, classroom)


def test_parked_entry_is_taken_back_by_its_own_group(
    store: Store, clock: StandingClock, classroom: Classroom, parked: ParkedTrial
) -> None:
    """As often as it is sent; nobody places it then. Another group's and a counted one stay."""
    for actor in (classroom.tablets[1], classroom.tablets[0], classroom.tablets[0]):
        with open_work(store, actor, clock=clock) as work:
            if actor is classroom.tablets[1]:
                with pytest.raises(NotFound):
                    take_back_entry(work, parked.id)
            else:
                taken = take_back_entry(work, parked.id)
                assert ParkState.DISCARDED is getattr(taken, "state", None)
    with open_work(store, classroom.teacher, clock=clock) as work:
        assert () == prepare_parked(work, classroom.class_id).waiting
        told = prepare_parked(work, classroom.class_id).decided[0].decided
    assert told.endswith("Taken back by the group.")
    counted = replace(parked.entry, kind=TrialKind.COUNTED)
    other = take(store, clock, classroom, counted)
    assert isinstance(other, ParkedTrial)
    with open_work(store, classroom.tablets[0], clock=clock) as work, pytest.raises(NotAllowed):
        take_back_entry(work, other.id)


def test_parts_of_a_class_elsewhere_are_not_parked(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Nobody learns by a late entry that such a part exists."""
    with open_work(store, OPERATOR, clock=clock) as work:
        elsewhere = make_classroom(work.session, clock())
    foreign = elsewhere.revisions_for(0, 0)
    end(store, clock, classroom)
    clock.move(minutes=5)
    entry = replace(entry_of(classroom, clock), revision_ids=foreign)
    clock.move(minutes=20)
    with raises(Invalid, match="not known here"):
        take(store, clock, classroom, entry)
