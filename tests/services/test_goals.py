"""Choosing a goal: kept in the class's challenge, or refused by the path of each mistake."""

from __future__ import annotations

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.errors import Invalid
from journal.domain.goal_documents import MOST_ROWS
from journal.domain.goals import Goal, GoalKind
from journal.records.work import open_work
from journal.services.goals import close_gaps
from journal.store import challenges, classes
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.test_counted import agree


@pytest.mark.parametrize(
    ("entered", "paths"),
    [
        ({}, ["goal.kind"]),
        ({"goal.kind": "complete_set"}, ["goal.zones"]),
        (
            {"goal.kind": "complete_set", "goal.zones.bark.times": "many"},
            ["goal.zones.bark.times"],
        ),
        ({"goal.kind": "complete_set", "goal.zones.bark.times": "11"}, ["goal.zones.bark.times"]),
        ({"goal.kind": "class_table"}, ["goal.table"]),
        (
            {"goal.kind": "class_table", "goal.table[1].place": "bark", "goal.table[1].from": "2"},
            ["goal.table[1].points"],
        ),
        (
            {
                "goal.kind": "class_table",
                "goal.table[1].place": "bark",
                "goal.table[1].from": "3",
                "goal.table[1].to": "nan",
                "goal.table[1].points": "1",
            },
            ["goal.table[1].to"],
        ),
    ],
)
def test_a_goal_that_cannot_be_taken_is_refused_by_path(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    entered: dict[str, str],
    paths: list[str],
) -> None:
    """The old goal stays, each mistake has its field."""
    with pytest.raises(Invalid) as caught:
        agree(store, clock, classroom, entered)
    assert paths == list(caught.value.by_field())
    with open_work(store, OPERATOR, writing=False, clock=clock) as work:
        assert challenges.get_challenge(work.session, classroom.challenge_id).goal is None


def test_a_kept_goal_is_a_change_of_the_class(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The overview hears of it, and the challenge keeps it."""
    with open_work(store, OPERATOR, writing=False, clock=clock) as work:
        before = classes.find_version(work.session, classroom.class_id)
    agree(store, clock, classroom, {"goal.kind": "mean_per_attempt"})
    with open_work(store, OPERATOR, writing=False, clock=clock) as work:
        assert before != classes.find_version(work.session, classroom.class_id)
        kept = challenges.get_challenge(work.session, classroom.challenge_id)
    assert Goal(kind=GoalKind.MEAN_PER_ATTEMPT) == kept.goal


def test_an_empty_form_has_no_lines() -> None:
    """A place alone is no line: the list always has one chosen."""
    assert {} == close_gaps({"goal.table[1].place": "bark", "goal.table[1].from": " "})


def test_every_line_of_the_form_is_read(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The last one as well: none falls off the end of the table."""
    entered = {"goal.kind": "class_table"}
    for number in range(1, MOST_ROWS + 1):
        entered |= {
            f"goal.table[{number}].place": "bark",
            f"goal.table[{number}].from": str(number),
            f"goal.table[{number}].to": str(number),
            f"goal.table[{number}].points": str(number),
        }
    agree(store, clock, classroom, entered)
    with open_work(store, OPERATOR, writing=False, clock=clock) as work:
        kept = challenges.get_challenge(work.session, classroom.challenge_id).goal
    assert kept is not None
    assert MOST_ROWS == len(kept.table)
