"""A record's values by its own challenge's words: what a tablet could not have sent is named."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from journal.content.messages import word_message
from journal.domain.group_records import GroupRecord
from journal.domain.record_checks import find_foreign_value
from journal.domain.trials import Place, Trial, TrialState
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.trial_entries import bridge_entry, log, make_bridge_room


@pytest.fixture
def record(store: Store, clock: StandingClock) -> GroupRecord:
    """Return the record of a group that has loaded a bridge once."""
    room = make_bridge_room(store, clock)
    log(store, clock, room.tablets[0], bridge_entry(room, clock))
    return gather(store, room)


def gather(store: Store, room: Classroom) -> GroupRecord:
    """Return the record of the first group."""
    with open_work(store, room.teacher, writing=False) as work:
        return gather_group(work, get_group_context(work, room.group_ids[0]))


def test_what_was_logged_by_the_rules_is_well(record: GroupRecord) -> None:
    """Nothing is found in a record that the journal wrote itself, nor in an empty one."""
    assert None is find_foreign_value(record)
    assert None is find_foreign_value(replace(record, trials=()))


@pytest.mark.parametrize(
    ("changes", "named"),
    [
        ({"value": -5.0}, "a measure of -5 g"),
        ({"value": 1e9}, "a measure of 1000000000 g"),
        ({"value": float("nan")}, "a measure of"),
        ({"place": Place.WALL}, "a place, where the challenge has none"),
        ({"zone": "blaze"}, "a place, where the challenge has none"),
        ({"amount": 3.0}, "an amount of 3"),
        ({"distance_mm": 0}, "a distance of 0 mm"),
        ({"misfire": "stuck", "value": None}, 'the misfire "stuck"'),
    ],
)
def test_a_value_outside_the_challenge_is_named_with_its_trial(
    record: GroupRecord, changes: dict[str, Any], named: str
) -> None:
    """Struck trials are read as well: pages show them."""
    for state in (TrialState.MEASURED, TrialState.STRUCK):
        trial: Trial = replace(record.trials[0], state=state, **changes)
        foreign = find_foreign_value(replace(record, trials=(trial,)))
        assert foreign is not None
        found = word_message(foreign)
        assert f"trial 1 of {record.group.name} has " in found
        assert named in found


def test_the_limits_themselves_are_well(record: GroupRecord) -> None:
    """The lowest and the highest measure can be logged, so they may come back."""
    outcome = record.context.challenge.outcome
    for value in (outcome.lowest, outcome.highest):
        trial = replace(record.trials[0], value=value)
        assert None is find_foreign_value(replace(record, trials=(trial,)))
