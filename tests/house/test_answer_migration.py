"""The migration that makes room for sketches loses no answer, forward or back."""

from __future__ import annotations

from typing import Any

import pytest
import sqlalchemy as sa

from journal.domain.ladders import AnswerEntry, BorneOut, Rung
from journal.services.ladders import answer_rung, judge_answer, start_climb
from journal.store import migrate
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.stories import Story

DRAWN = "[[[100, 500], [400, 200]]]"
ANSWERED = (
    {"words": "They lie low.", "scribe": "Ben"},
    {"said_to_teacher": True},
    {"starter": "We saw", "sketch": DRAWN},
    {"sketch": DRAWN},
)


def _read(store: Store) -> list[dict[str, Any]]:
    with store.engine.connect() as connection:
        found = connection.execute(sa.text("SELECT * FROM answers ORDER BY answered_at"))
        return [dict(row) for row in found.mappings()]


@pytest.fixture
def answered(store: Store, clock: StandingClock, classroom: Classroom) -> Store:
    """Return a store with an answer of every kind."""
    story = Story(store, clock, classroom)
    climb = story.do(start_climb, story.group_id)
    for rung, told in zip(Rung, ANSWERED, strict=False):
        entry = AnswerEntry(rung=rung, question="", **told)  # type: ignore[arg-type]
        climb = story.do(answer_rung, story.group_id, entry)
    story.do(judge_answer, story.group_id, climb.answers[0].id, BorneOut.NO)
    return store


def test_taken_back_a_sketch_alone_counts_as_said(answered: Store) -> None:
    """Everything else of an answer stays as it was."""
    before = _read(answered)
    assert ["words", "said", "starter", "sketch"] == [one["kind"] for one in before]
    migrate.downgrade(answered.engine, "0007")
    wanted = [
        {name: value for name, value in one.items() if name != "sketch"}
        | ({"kind": "said"} if one["kind"] == "sketch" else {})
        for one in before
    ]
    assert wanted == _read(answered)


def test_answers_kept_before_sketches_survive_the_upgrade(answered: Store) -> None:
    """Each is the same, without a sketch; other kinds than the known ones are still refused."""
    migrate.downgrade(answered.engine, "0007")
    before = _read(answered)
    migrate.upgrade(answered.engine)
    assert [one | {"sketch": None} for one in before] == _read(answered)
    with (
        answered.engine.connect() as connection,
        pytest.raises(sa.exc.IntegrityError, match="ck_answers_kind"),
    ):
        connection.execute(sa.text("UPDATE answers SET kind = 'sung'"))
