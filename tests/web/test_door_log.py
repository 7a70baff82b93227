"""What the log tells of the door: that somebody came in or was turned away, without a name."""

from __future__ import annotations

import logging

import pytest
from flask import Flask
from flask.testing import FlaskClient

from journal.domain.actors import NOBODY, OPERATOR
from journal.records.work import open_work
from journal.services.lesson_words import make_lesson_word
from journal.services.teachers import add_teacher
from journal.store.engine import Store
from journal.web.door_log import MOST_LINES, DoorLog
from tests.conftest import StandingClock
from tests.factories.classrooms import NICKNAMES, Classroom

WORDS = ("oak ladder noon", "my dog is called Rex", "copper-otter-000", "ruiz", "Ms Ruiz")


@pytest.fixture
def heard(caplog: pytest.LogCaptureFixture) -> pytest.LogCaptureFixture:
    """Return what is written to the log."""
    caplog.set_level(logging.INFO)
    return caplog


def test_coming_in_and_being_turned_away_are_written_without_names(
    app: Flask,
    tablet: FlaskClient,
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    heard: pytest.LogCaptureFixture,
) -> None:
    """Each once, with ids of ours; no name, no password and no lesson word, right or wrong."""
    with open_work(store, OPERATOR, clock=clock) as work:
        added = add_teacher(work, "ruiz", "Ms Ruiz", WORDS[0])
    with open_work(store, classroom.teacher, clock=clock) as work:
        word = make_lesson_word(work, classroom.class_id)
    browser = app.test_client()
    for password in (WORDS[1], WORDS[0]):
        browser.post("/teacher", data={"sign_in_name": "ruiz", "password": password})
    wrong = {"present": WORDS[1], "password": "elm and river", "again": "elm and river"}
    browser.post("/teacher/password", data=wrong)
    child = app.test_client()
    for typed in (WORDS[2], word):
        child.post("/", data={"word": typed})
    group, student = classroom.group_ids[0], classroom.student_ids[0][0]
    child.post(f"/door/groups/{group}", data={"student_id": str(student)})
    tablet.get(f"/groups/{classroom.group_ids[1]}/journal")
    tablet.get(f"/classes/{classroom.class_id}")
    app.test_client().get("/classes")
    child.post("/sign-out")
    lines = [line for line in heard.messages if "journal" not in line[:7]]
    told = "\n".join(lines)
    for wanted in (
        "a teacher's sign-in was refused: nobody",
        f"a teacher came in: teacher, teacher {added.id}",
        "a new password was refused: teacher",
        "a lesson word was refused: nobody",
        f"a tablet came in: tablet, class {classroom.class_id}, group {group}",
        "denied 404 GET /groups/<uuid:group_id>/journal: tablet",
        "denied 403 GET /classes/<uuid:class_id>: tablet",
        "denied 401 GET /classes: nobody",
        "signed out: tablet",
    ):
        assert 1 == told.count(wanted), wanted
    secrets = [*WORDS, word, *(name for names in NICKNAMES for name in names)]
    assert [] == [secret for secret in secrets if f" {secret}" in f" {told}"]


def test_a_flood_fills_no_disk(heard: pytest.LogCaptureFixture) -> None:
    """So many lines a minute, and then how many there were besides."""
    now = [0.0]
    log = DoorLog(lambda: now[0])
    for _ in range(1000):
        log.note("a lesson word was refused", NOBODY)
    assert MOST_LINES == len(heard.messages)
    now[0] = 61.0
    log.note("signed out", NOBODY)
    assert [f"{1000 - MOST_LINES} lines like these were left out", "signed out: nobody"] == (
        heard.messages[MOST_LINES:]
    )
