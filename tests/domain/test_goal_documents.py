"""The [goal] table of a challenge: what is taken, and each mistake by its path."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from uuid import UUID

import pytest

from journal.domain.challenge_documents import read_challenge, with_changes
from journal.domain.errors import Invalid
from journal.domain.goals import MEASURE, Goal, GoalKind, TableRow
from tests.domain.challenge_samples import problems_of, ring_throw, rolling_cart

CLASS_ID = UUID(int=1)
ZONE = ring_throw()["panel"]["zones"][0]["key"]


def with_goal(goal: dict[str, Any], document: dict[str, Any] | None = None) -> dict[str, Any]:
    """Return the document of the ring throw with a goal."""
    return {**(document or ring_throw()), "goal": goal}


def test_without_a_goal_the_counting_rule_decides() -> None:
    """Sum means most points, mean means mean per attempt."""
    summed = read_challenge(ring_throw(), "mine.toml")
    averaged = ring_throw()
    averaged["counting"] = {"attempts": 3, "way": "mean_per_attempt"}
    assert (None, GoalKind.MOST_POINTS) == (summed.goal, summed.agreed_goal.kind)
    assert GoalKind.MEAN_PER_ATTEMPT is read_challenge(averaged, "mine.toml").agreed_goal.kind


def test_a_set_names_a_zone_as_often_as_it_is_to_be_hit() -> None:
    """Twice the same zone is two hits."""
    goal = {"kind": "complete_set", "zones": [{"key": ZONE, "times": 2}]}
    assert (ZONE, ZONE) == read_challenge(with_goal(goal), "mine.toml").agreed_goal.zones


def test_a_table_holds_places_or_the_quantity() -> None:
    """On a panel a line is for hits at a place, elsewhere for the quantity itself."""
    hits = {"kind": "class_table", "table": [{"place": "wall", "from": 1, "to": 2, "points": -1}]}
    far = {"kind": "class_table", "table": [{"from": 0.5, "points": 3}]}
    assert (TableRow(where="wall", points=-1.0, first=1.0, last=2.0),) == read_challenge(
        with_goal(hits), "mine.toml"
    ).agreed_goal.table
    assert (TableRow(where=MEASURE, points=3.0, first=0.5),) == read_challenge(
        with_goal(far, rolling_cart()), "mine.toml"
    ).agreed_goal.table


@pytest.mark.parametrize(
    ("goal", "paths"),
    [
        ({"kind": "fastest"}, ["goal.kind"]),
        ({"kind": "complete_set"}, ["goal.zones"]),
        ({"kind": "complete_set", "zones": []}, ["goal.zones"]),
        ({"kind": "complete_set", "zones": [{"key": "sky"}]}, ["goal.zones.sky.key"]),
        (
            {"kind": "complete_set", "zones": [{"key": ZONE, "times": 10}]},
            [f"goal.zones.{ZONE}.times"],
        ),
        ({"kind": "most_points", "zones": [{"key": ZONE}]}, ["goal.zones"]),
        ({"kind": "most_points", "table": [{"from": 1, "points": 1}]}, ["goal.table"]),
        ({"kind": "class_table"}, ["goal.table"]),
        (
            {"kind": "class_table", "table": [{"place": "sky", "from": 1, "points": 1}]},
            ["goal.table[1].place"],
        ),
        (
            {"kind": "class_table", "table": [{"place": ZONE, "from": 3, "to": 2, "points": 1}]},
            ["goal.table[1].to"],
        ),
        (
            {"kind": "class_table", "table": [{"place": ZONE, "from": 1.5, "points": 1}]},
            ["goal.table[1].from"],
        ),
        (
            {"kind": "class_table", "table": [{"place": ZONE, "from": 1, "points": 1e9}]},
            ["goal.table[1].points"],
        ),
        ({"kind": "most_points", "colour": "red"}, ["goal.colour"]),
    ],
)
def test_each_mistake_is_named_by_its_path(goal: dict[str, Any], paths: list[str]) -> None:
    """The path leads to the key that is to be mended."""
    assert paths == list(problems_of(with_goal(goal)))


def test_a_table_has_at_most_twelve_lines() -> None:
    """Thirteen are refused."""
    lines = [{"place": ZONE, "from": 1, "points": 1}] * 13
    assert ["goal.table"] == list(problems_of(with_goal({"kind": "class_table", "table": lines})))


def test_what_has_no_panel_has_no_set() -> None:
    """A cart hits no zone."""
    goal = {"kind": "attempts_to_complete", "zones": [{"key": ZONE}]}
    assert ["goal.kind"] == list(problems_of(with_goal(goal, rolling_cart())))


def test_a_class_copy_takes_another_goal() -> None:
    """The copy keeps its ids, and the ready one its own goal."""
    ready = replace(read_challenge(ring_throw(), "mine.toml"), id=CLASS_ID, class_id=CLASS_ID)
    changed = with_changes(ready, goal={"kind": "mean_per_attempt"})
    assert (CLASS_ID, Goal(kind=GoalKind.MEAN_PER_ATTEMPT)) == (changed.id, changed.goal)
    assert ready.goal is None
    with pytest.raises(Invalid) as caught:
        with_changes(ready, goal={"kind": "complete_set"})
    assert ["goal.zones"] == list(caught.value.by_field())
