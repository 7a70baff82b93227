"""Trials with a measure, on a part that its test destroys."""

from __future__ import annotations

from typing import Any

import pytest

from journal.domain.errors import Invalid, Refused
from journal.domain.trials import Place
from journal.records.work import open_work
from journal.services.trials import mend_broken
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.sentences import raises
from tests.services.trial_entries import bridge_entry, log, make_bridge_room


@pytest.fixture
def bridge_room(store: Store, clock: StandingClock) -> Classroom:
    """Return a classroom that loads paper bridges: one shared part, destroyed by its test."""
    return make_bridge_room(store, clock)


def test_test_breaks_a_bridge_until_it_is_built_again(
    store: Store, clock: StandingClock, bridge_room: Classroom
) -> None:
    """A destroyed part waits for "the same way" or for a new revision."""
    tablet = bridge_room.tablets[0]
    log(store, clock, tablet, bridge_entry(bridge_room, clock))

    with raises(Refused, match="Bridge is broken"):
        log(store, clock, tablet, bridge_entry(bridge_room, clock))

    with open_work(store, tablet, clock=clock) as work:
        mend_broken(work, bridge_room.group_ids[0])
    log(store, clock, tablet, bridge_entry(bridge_room, clock))


def test_misfire_leaves_the_bridge_whole(
    store: Store, clock: StandingClock, bridge_room: Classroom
) -> None:
    """A load that fell off has not tested the bridge."""
    tablet = bridge_room.tablets[0]
    log(
        store, clock, tablet,
        bridge_entry(bridge_room, clock, value=None, misfire="load_fell"),
    )  # fmt: skip

    assert log(store, clock, tablet, bridge_entry(bridge_room, clock)).value == 340.0


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"value": 20001.0}, "0 to 20000 g"),
        ({"value": -1.0}, "0 to 20000 g"),
        ({"value": float("nan")}, "0 to 20000 g"),
        ({"value": None}, "measure is missing"),
        ({"place": Place.WALL}, "not a place"),
        ({"amount": 3.0}, "logs no amount"),
    ],
)
def test_measure_stays_within_its_limits(
    store: Store,
    clock: StandingClock,
    bridge_room: Classroom,
    changes: dict[str, Any],
    words: str,
) -> None:
    """A slip of the finger is told with limits and unit."""
    with raises(Invalid, match=words):
        log(store, clock, bridge_room.tablets[0], bridge_entry(bridge_room, clock, **changes))
