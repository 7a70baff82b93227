"""The migration that takes cork and wax from the soft tips mends shipped lists and no other."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
import sqlalchemy as sa

from journal.domain.factor_values import current_value
from journal.domain.record_checks import find_foreign_value
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.services.challenges import get_own_challenge
from journal.store import migrate
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.stories import Story

BEFORE = ["felt", "cork", "sponge", "wax"]
SOFT = ["felt", "sponge", "fleece"]
LINE_BEFORE = "Only soft tips from the list."


def _document(store: Store) -> dict[str, Any]:
    with store.engine.connect() as connection:
        text = connection.execute(sa.text("SELECT document FROM challenges")).scalar_one()
    document: dict[str, Any] = json.loads(text)
    return document


def _tip(document: dict[str, Any]) -> dict[str, Any]:
    (tip,) = (
        factor
        for part in document["parts"]
        for factor in part["factors"]
        if factor["key"] == "tip_material"
    )
    found: dict[str, Any] = tip
    return found


def _line(document: dict[str, Any]) -> dict[str, Any]:
    (line,) = (line for line in document["safety"] if line["key"] == "soft_tips")
    found: dict[str, Any] = line
    return found


@pytest.fixture
def put_back(store: Store, classroom: Classroom) -> Callable[..., None]:
    """Return a function that makes the class's copy one of before, with changes of a teacher's."""
    del classroom
    migrate.downgrade(store.engine, "0020")

    def put(choices: list[str], start: str, line: str = LINE_BEFORE) -> None:
        document = _document(store)
        _tip(document).update(choices=choices, start=start)
        _line(document)["text"] = line
        document["materials"] = [
            {**one, "key": "cork", "name": "Cork"} if one["key"] == "fleece" else one
            for one in document["materials"]
        ]
        with store.engine.begin() as connection:
            connection.execute(
                sa.text("UPDATE challenges SET document = :text"), {"text": json.dumps(document)}
            )

    return put


def test_a_shipped_list_is_mended(
    store: Store, clock: StandingClock, classroom: Classroom, put_back: Callable[..., None]
) -> None:
    """The copy is read by the rules of the house; cork stays a material, fleece becomes one."""
    put_back(BEFORE, "sponge")

    migrate.upgrade(store.engine)

    document = _document(store)
    assert (SOFT, "sponge") == (_tip(document)["choices"], _tip(document)["start"])
    assert "no dent on a thumb" in _line(document)["text"]
    story = Story(store, clock, classroom)
    kept, _ = story.do(get_own_challenge, classroom.challenge_id, actor=classroom.teacher)
    assert {"cork", "fleece"} <= {material.key for material in kept.materials}


@pytest.mark.parametrize("start", ["cork", "wax"])
def test_a_first_build_that_a_teacher_chose_stays_beside_the_line(
    store: Store, put_back: Callable[..., None], start: str
) -> None:
    """The first darts keep what they are of; the safety line says what makes a tip soft."""
    put_back(BEFORE, start)
    before = _document(store)
    migrate.upgrade(store.engine)
    document = _document(store)
    assert (BEFORE, start) == (_tip(document)["choices"], _tip(document)["start"])
    assert "no dent on a thumb" in _line(document)["text"]
    assert before["materials"] == document["materials"]


def test_a_teachers_own_list_and_line_stay(store: Store, put_back: Callable[..., None]) -> None:
    """What is no longer the shipped one is a teacher's words."""
    put_back(["felt", "cork"], "cork", "Soft tips of our own list only.")
    before = _document(store)
    migrate.upgrade(store.engine)
    assert before == _document(store)


def test_taking_it_back_brings_no_cork(store: Store, classroom: Classroom) -> None:
    """The earlier list was not one of soft tips: down and up leave the copy alone."""
    del classroom
    today = _document(store)
    migrate.downgrade(store.engine, "0020")
    assert today == _document(store)
    migrate.upgrade(store.engine)
    assert today == _document(store)


def test_a_revision_of_cork_is_still_shown(
    store: Store, clock: StandingClock, classroom: Classroom, put_back: Callable[..., None]
) -> None:
    """A dart that was given a cork tip keeps saying so after the list has changed."""
    put_back(BEFORE, "felt")
    changes = [{"factor": "tip_material", "from_value": "felt", "to_value": "cork"}]
    with store.engine.begin() as connection:
        statement = sa.text("UPDATE revisions SET changes = :changes WHERE id = :id")
        connection.execute(
            statement,
            {"changes": json.dumps(changes), "id": classroom.own_revision_ids[0][0].hex},
        )
    migrate.upgrade(store.engine)
    with open_work(store, classroom.teacher, writing=False, clock=clock) as work:
        record = gather_group(work, get_group_context(work, classroom.group_ids[0]))
    found = record.find_revision(classroom.own_revision_ids[0][0])
    assert found is not None
    state, revision = found
    assert "cork" == current_value("tip_material", revision, state.revisions, state.kind)
    assert "" == (find_foreign_value(record) or "")
