"""The migration that renames the key of a challenge leaves the class's copy as it was."""

from __future__ import annotations

import json
from typing import Any

import sqlalchemy as sa

from journal.services.challenges import change_challenge, get_own_challenge, open_challenge
from journal.store import migrate
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.stories import Story


def _rows(store: Store) -> dict[str, dict[str, Any]]:
    """Return each copy by its title, the document read."""
    with store.engine.connect() as connection:
        found = connection.execute(sa.text("SELECT * FROM challenges")).mappings()
        rows = [dict(row) for row in found]
    return {row["title"]: {**row, "document": json.loads(row["document"])} for row in rows}


def _keys(store: Store) -> dict[str, tuple[str, str]]:
    return {title: (row["key"], row["document"]["key"]) for title, row in _rows(store).items()}


def _rest(store: Store) -> dict[str, dict[str, Any]]:
    """Return everything of each copy but its key."""
    return {
        title: {
            **{name: value for name, value in row.items() if name != "key"},
            "document": {name: one for name, one in row["document"].items() if name != "key"},
        }
        for title, row in _rows(store).items()
    }


def test_the_key_changes_and_the_copy_stays(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Title, distance and thresholds of a class are kept, another challenge is left alone."""
    story = Story(store, clock, classroom)
    entered = {"title": "Our tree", "distance_mm": "1.8 m", "criteria.flies.threshold": "7"}
    story.do(change_challenge, classroom.challenge_id, entered, actor=classroom.teacher)
    story.do(open_challenge, classroom.class_id, "paper_bridge", actor=classroom.teacher)
    before = _rest(store)
    new = {"Our tree": ("beyond_the_ditch",) * 2, "Paper bridge": ("paper_bridge",) * 2}
    assert new == _keys(store)

    migrate.downgrade(store.engine, "0008")
    assert {**new, "Our tree": ("trail_blaze",) * 2} == _keys(store)
    assert before == _rest(store)

    migrate.upgrade(store.engine)
    assert new == _keys(store)
    assert before == _rest(store)
    kept, _ = story.do(get_own_challenge, classroom.challenge_id, actor=classroom.teacher)
    assert ("beyond_the_ditch", "Our tree", 1800) == (kept.key, kept.title, kept.distance_mm)
