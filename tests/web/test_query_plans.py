"""No busy page reads a table from end to end: what a class does costs the same in a large school.

SQLite says how it will answer a statement (EXPLAIN QUERY PLAN, https://www.sqlite.org/eqp.html):
"SEARCH" goes by an index, "SCAN" reads every row of the table, those of all other classes too.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any
from uuid import uuid4

import pytest
import sqlalchemy as sa
from flask import Flask
from flask.testing import FlaskClient

from journal.store.engine import Store
from journal.store.tables import Row
from journal.store.trials import find_last_trial
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.stories import tell_story
from tests.services.trial_entries import entry_of, log
from tests.web.test_trial_api import body_of

#: Read whole, with the reason.
READ_WHOLE = {
    "corrections": "some hundreds a year; by trial, each of thousands of trials would be looked up",
    "classes": "some tens in a school",
    "fair_test_cards": "at most one a class",
    "jobs": "prints that wait, among some hundreds a year",
}
_TABLES = frozenset(Row.metadata.tables) - frozenset(READ_WHOLE)
#: Each takes a tablet, the teacher, the classroom and the clock.
Journey = Callable[[FlaskClient, FlaskClient, Classroom, StandingClock], Any]
JOURNEYS: dict[str, Journey] = {
    "a trial": lambda tablet, _, room, clock: tablet.put(
        f"/api/trials/{uuid4()}", json=body_of(room, clock)
    ),
    "a counted trial": lambda tablet, _, room, clock: tablet.put(
        f"/api/trials/{uuid4()}", json=body_of(room, clock, kind="counted")
    ),
    "the log page": lambda tablet, _, room, __: tablet.get(_home(room) + "/trials/new"),
    "the lane": lambda tablet, _, room, __: tablet.get(_home(room) + "/lane"),
    "a rung": lambda tablet, _, room, __: tablet.post(_home(room) + "/ladder"),
    "an answer": lambda tablet, _, room, __: tablet.post(
        _home(room) + "/ladder/answers", data={"rung": "notice", "words": "It is low."}
    ),
    "the journal": lambda tablet, _, room, __: tablet.get(_home(room) + "/journal"),
    "the class": lambda _, teacher, room, __: teacher.get(f"/classes/{room.class_id}"),
    "the overview": lambda _, teacher, room, __: teacher.get(f"/classes/{room.class_id}/overview"),
    "the overview's news": lambda _, teacher, room, __: teacher.get(
        f"/api/classes/{room.class_id}/overview"
    ),
    "the findings": lambda _, teacher, room, __: teacher.get(_home(room) + "/findings"),
}
#: Statements that read or change rows, with the one that looks up who is asking. A number can only
#: shrink: whoever gathers another thing reads it with one that is read already.
MOST_STATEMENTS = {
    "a trial": 3,
    "a counted trial": 5,
    "the log page": 11,
    "the lane": 2,
    "a rung": 8,
    "an answer": 14,
    "the journal": 21,
    "the class": 19,
    "the overview": 17,
    "the overview's news": 17,
    "the findings": 16,
}


@pytest.mark.parametrize("name", JOURNEYS)
def test_no_busy_page_reads_a_whole_table(
    name: str,
    store: Store,
    clock: StandingClock,
    tablet: FlaskClient,
    teacher: FlaskClient,
    classroom: Classroom,
) -> None:
    """Every statement finds its rows by an index, and there are few."""
    if not store.is_sqlite:
        pytest.skip("PostgreSQL chooses by how many rows there are, and here there are few.")
    for _ in range(3):
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock))
    if name == "an answer":
        tablet.post(_home(classroom) + "/ladder")
    with _listed(store) as sent:
        answer = JOURNEYS[name](tablet, teacher, classroom, clock)
    assert answer.status_code < 400, answer.text
    assert sent
    assert len(sent) <= MOST_STATEMENTS[name], "\n".join(statement for statement, _ in sent)

    assert not _scans(store, sent)


def test_no_page_reads_a_whole_table(
    app: Flask,
    store: Store,
    clock: StandingClock,
    tablet: FlaskClient,
    teacher: FlaskClient,
    classroom: Classroom,
) -> None:
    """Each address that can be asked for, after a whole story, for teacher and tablet."""
    if not store.is_sqlite:
        pytest.skip("PostgreSQL chooses by how many rows there are, and here there are few.")
    tell_story(store, clock, classroom)
    with store.open_session(writing=False) as session:
        trial = find_last_trial(session, classroom.group_ids[0])
    assert trial is not None
    ids = {
        "class_id": classroom.class_id,
        "group_id": classroom.group_ids[0],
        "session_id": classroom.session_id,
        "challenge_id": classroom.challenge_id,
        "trial_id": trial.id,
        "student_id": classroom.student_ids[0][0],
    }
    addresses = [
        re.sub(r"<uuid:(\w+)>", lambda found: str(ids[found[1]]), rule.rule)
        for rule in app.url_map.iter_rules()
        if "GET" in (rule.methods or ()) and rule.arguments <= set(ids)
    ]
    assert len(addresses) > 40
    for browser in (teacher, tablet):
        for address in addresses:
            with _listed(store) as sent:
                browser.get(address)
            assert not _scans(store, sent), address


def _scans(store: Store, sent: list[tuple[str, Any]]) -> list[str]:
    """Return what is read from end to end."""
    with store.engine.connect() as connection:
        return [
            f"{step.detail} in {statement}"
            for statement, values in sent
            for step in connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {statement}", values)
            if step.detail.startswith("SCAN ") and step.detail.split()[1] in _TABLES
        ]


def _home(room: Classroom) -> str:
    return f"/groups/{room.group_ids[0]}"


@contextmanager
def _listed(store: Store) -> Iterator[list[tuple[str, Any]]]:
    """List what is read or changed, with its values."""
    sent: list[tuple[str, Any]] = []

    def note(*args: Any) -> None:
        statement, values, _, several = args[2:6]
        if statement.startswith(("SELECT", "UPDATE", "DELETE", "WITH")):
            sent.append((statement, values[0] if several else values))

    sa.event.listen(store.engine, "before_cursor_execute", note)
    try:
        yield sent
    finally:
        sa.event.remove(store.engine, "before_cursor_execute", note)
