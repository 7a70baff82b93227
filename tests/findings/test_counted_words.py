"""A group's own counted attempts on paper: the goal, what it reached, never a place."""

from __future__ import annotations

from dataclasses import replace

import pytest

from journal.domain.classes import GradeBand
from journal.domain.group_records import GroupRecord
from journal.domain.outcomes import near_is_better
from journal.findings.counted_words import describe_counted
from journal.portfolio.gathering import gather_portfolio
from journal.records.group_records import gather_class
from journal.records.work import open_work
from journal.store import classes
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.test_counted import agree, count


def record_of(store: Store, clock: StandingClock, room: Classroom) -> GroupRecord:
    """Return the first group's record."""
    with open_work(store, room.teacher, writing=False, clock=clock) as work:
        return gather_class(work, classes.get_class(work.session, room.class_id))[0]


def test_before_the_first_attempt_nothing_is_told(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """No heading without a line below it."""
    assert () == describe_counted(record_of(store, clock, classroom))


def test_the_portfolio_tells_the_groups_own_attempts(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Sum and number; nothing of another group and no place."""
    count(store, clock, classroom, 0, (0, 8), (1, 4))
    count(store, clock, classroom, 1, (0, 8), (1, 8))
    with open_work(store, classroom.teacher, writing=False, clock=clock) as work:
        told = gather_portfolio(work, classroom.group_ids[0]).ending.counted
    assert (
        "Most points in all counted attempts together.",
        "2 counted attempts: 12 points in all.",
    ) == told


def test_a_mean_is_for_those_who_know_means(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Grades 6 to 8 read it, the younger ones do not (CCSSM 2010: 6.SP)."""
    count(store, clock, classroom, 0, (0, 8), (1, 4))
    record = record_of(store, clock, classroom)
    older = replace(record.context.school_class, band=GradeBand.SIX_TO_EIGHT)
    told = describe_counted(replace(record, context=replace(record.context, school_class=older)))
    assert "2 counted attempts: 12 points in all, a mean of 6." == told[1]


@pytest.mark.parametrize(
    ("goal", "told"),
    [
        (
            {"goal.kind": "complete_set", "goal.zones.bark.times": "2"},
            "1 of 2 of the set. Still to hit: Bark.",
        ),
        ({"goal.kind": "complete_set", "goal.zones.bark.times": "1"}, "1 of 1 of the set."),
        (
            {"goal.kind": "attempts_to_complete", "goal.zones.bark.times": "1"},
            "The set took 2 attempts.",
        ),
        (
            {"goal.kind": "attempts_to_complete", "goal.zones.trunk.times": "1"},
            "Still to hit: Trunk.",
        ),
        (
            {
                "goal.kind": "class_table",
                "goal.table[1].place": "blaze",
                "goal.table[1].from": "1",
                "goal.table[1].points": "3",
            },
            "By the table of our class: 3 points.",
        ),
    ],
)
def test_what_was_reached_is_told_by_the_goal(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    goal: dict[str, str],
    told: str,
) -> None:
    """Blaze first, bark second."""
    agree(store, clock, classroom, goal)
    count(store, clock, classroom, 0, (0, 8), (1, 4))
    assert told == describe_counted(record_of(store, clock, classroom))[2]


def test_nearness_is_named(store: Store, clock: StandingClock, classroom: Classroom) -> None:
    """Where the aim is near a value, the figures are how far off."""
    count(store, clock, classroom, 0, (0, 8))
    record = record_of(store, clock, classroom)
    challenge = record.context.challenge
    near = replace(challenge, outcome=replace(challenge.outcome, direction=near_is_better(5.0)))
    told = describe_counted(replace(record, context=replace(record.context, challenge=near)))
    assert "1 counted attempt, each by how far it was from 5: 3 points in all." == told[1]
