"""The tablets at a class's door, as the teacher's desk shows them."""

from __future__ import annotations

from uuid import uuid4

import pytest
from flask import Flask
from flask.testing import FlaskClient

from journal.domain.classes import Door
from journal.records.work import open_work
from journal.services.classes import set_door
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.web.test_door import knock, word

__all__ = ["word"]


@pytest.fixture(autouse=True)
def _door_asks(store: Store, clock: StandingClock, classroom: Classroom) -> None:
    """Let each tablet wait for the teacher."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        set_door(work, classroom.class_id, Door.KNOCK)


def _list(room: Classroom) -> str:
    return f"/classes/{room.class_id}/tablets"


def _place_of(page: str, room: Classroom, number: int = 0) -> str:
    """Return the address that places a tablet of the list."""
    return _list(room) + page.split(f'action="{_list(room)}')[1 + number].split('"', maxsplit=1)[0]


def test_a_tablet_waits_is_let_in_and_sent_out(
    teacher: FlaskClient, nobody: FlaskClient, classroom: Classroom, word: str
) -> None:
    """The desk names its child; what the tablet may read follows each tap at once."""
    journal = f"/groups/{classroom.group_ids[0]}/journal"
    assert "No tablet is signed in." in teacher.get(_list(classroom)).text
    knock(nobody, classroom, word)
    assert 200 != nobody.get(journal).status_code
    page = teacher.get(_list(classroom)).text
    assert ", Ada<" in page
    assert "Send away" in page
    place = _place_of(page, classroom)
    answer = teacher.post(place, data={"do": "let in"})
    assert (303, f"/classes/{classroom.class_id}") == (
        answer.status_code,
        answer.location.split("#")[0],
    )
    assert 200 == nobody.get(journal).status_code
    assert "Send out" in teacher.get(_list(classroom)).text
    teacher.post(place, data={"do": "send out"})
    assert 200 != nobody.get(journal).status_code
    assert "Send out" not in teacher.get(_list(classroom)).text


def test_everyone_who_waits_is_let_in_by_one_tap(
    app: Flask, teacher: FlaskClient, classroom: Classroom, word: str
) -> None:
    """One that was sent away before is not among them."""
    browsers = [app.test_client() for _ in range(3)]
    knock(browsers[0], classroom, word)
    teacher.post(_place_of(teacher.get(_list(classroom)).text, classroom), data={"do": "send out"})
    for browser in browsers[1:]:
        knock(browser, classroom, word)
    assert "Let everyone in who waits" in teacher.get(_list(classroom)).text
    teacher.post(_list(classroom))
    journal = f"/groups/{classroom.group_ids[0]}/journal"
    assert [False, True, True] == [200 == one.get(journal).status_code for one in browsers]
    assert "Let everyone in who waits" not in teacher.get(_list(classroom)).text


def test_the_list_is_sent_only_where_it_changed(
    teacher: FlaskClient, nobody: FlaskClient, classroom: Classroom, word: str
) -> None:
    """204 for what the desk has seen; a tablet that knocks makes it new."""
    seen = teacher.get(_list(classroom)).text.split("?seen=")[1].split('"')[0]
    again = teacher.get(f"{_list(classroom)}?seen={seen}")
    assert (204, b"") == (again.status_code, again.data)
    knock(nobody, classroom, word)
    assert 200 == teacher.get(f"{_list(classroom)}?seen={seen}").status_code


def test_whatever_is_sent_but_let_in_keeps_a_tablet_out(
    teacher: FlaskClient, nobody: FlaskClient, classroom: Classroom, word: str
) -> None:
    """A form that says nothing opens no door; a tablet that is none is not found."""
    knock(nobody, classroom, word)
    place = _place_of(teacher.get(_list(classroom)).text, classroom)
    for sent in ({}, {"do": "LET IN"}, {"do": "in"}):
        teacher.post(place, data=sent)
        journal = nobody.get(f"/groups/{classroom.group_ids[0]}/journal")
        assert 200 != journal.status_code
    missing = teacher.post(f"{_list(classroom)}/{uuid4()}", data={"do": "let in"})
    assert 404 == missing.status_code
    assert "This tablet is not at the door any more." in missing.text


def test_a_tablet_does_not_let_itself_in(
    teacher: FlaskClient, nobody: FlaskClient, classroom: Classroom, word: str
) -> None:
    """Neither by its own place nor with everybody."""
    knock(nobody, classroom, word)
    place = _place_of(teacher.get(_list(classroom)).text, classroom)
    assert 403 == nobody.post(place, data={"do": "let in"}).status_code
    assert 403 == nobody.post(_list(classroom)).status_code
    assert "Send away" in teacher.get(_list(classroom)).text
