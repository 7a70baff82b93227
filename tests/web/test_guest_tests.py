"""The page of guest tests and its API, as two tablets and the teacher use them."""

from __future__ import annotations

import re
from html import unescape
from uuid import UUID, uuid4

from flask.testing import FlaskClient

from journal.store import guest_tests
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.web.conftest import SignIn


def _base(room: Classroom, group: int = 0) -> str:
    return f"/groups/{room.group_ids[group]}/guest-tests"


def _open_id(store: Store, room: Classroom) -> UUID:
    with store.open_session(writing=False) as session:
        found = guest_tests.guest_tests_of_groups(session, room.group_ids, room.challenge_id)
    return found[-1].id


def _trial_id(page: str) -> str:
    found = re.search(r'name="trial_id" value="([^"]+)"', page)
    assert found is not None
    return found[1]


def test_a_guest_test_from_invitation_to_the_last_launch(
    tablet: FlaskClient, sign_in: SignIn, classroom: Classroom, store: Store
) -> None:
    """The other group says yes on its tablet; launches are tapped, the last one taken back."""
    guests = [str(student) for student in classroom.student_ids[1][:2]]
    answer = tablet.post(_base(classroom), data={"kind": "guests", "students": guests})
    assert 303 == answer.status_code
    assert "has not said yes yet" in tablet.get(_base(classroom)).text
    other = sign_in(classroom.tablets[1])
    asked = unescape(other.get(_base(classroom, 1)).text)
    assert "may Dara and Eli launch their device?" in asked
    test_id = _open_id(store, classroom)
    other.post(f"{_base(classroom, 1)}/{test_id}/answer", data={"agreed": "yes"})
    page = tablet.get(_base(classroom)).text
    assert "Next: Dara, launch 1 of 8." in page
    sent = {"trial_id": _trial_id(page), "at": "zone:bark"}
    tablet.post(f"{_base(classroom)}/{test_id}/trials", data=sent)
    page = tablet.get(_base(classroom)).text
    assert "Next: Eli, launch 2 of 8." in page
    assert "Guest 1: " in page
    tablet.post(f"{_base(classroom)}/{test_id}/strike")
    assert "Next: Dara, launch 1 of 8." in tablet.get(_base(classroom)).text
    tablet.post(f"{_base(classroom)}/{test_id}/end")
    assert "Who could launch?" in tablet.get(_base(classroom)).text


def test_what_is_wrong_is_said_beside_the_form(tablet: FlaskClient, classroom: Classroom) -> None:
    """One guest alone, and a launch that says nothing of where it went."""
    one = {"kind": "guests", "students": [str(classroom.student_ids[1][0])]}
    answer = tablet.post(_base(classroom), data=one)
    assert 422 == answer.status_code
    assert "Choose two guests" in answer.text


def test_a_launch_without_a_place_is_sent_back(
    tablet: FlaskClient, classroom: Classroom, store: Store
) -> None:
    """The sentence of the trial page stands here as well."""
    tablet.post(_base(classroom), data={"kind": "guests"})
    page = tablet.get(_base(classroom)).text
    address = f"{_base(classroom)}/{_open_id(store, classroom)}/trials"
    answer = tablet.post(address, data={"trial_id": _trial_id(page)})
    assert 422 == answer.status_code
    assert "Say where it ended" in answer.text


def test_positions_come_by_api(
    tablet: FlaskClient, classroom: Classroom, store: Store, clock: StandingClock
) -> None:
    """A tapped place in mm, once however often it is sent; an unknown field is refused."""
    tablet.post(_base(classroom), data={"kind": "guests"})
    address = f"/api/guest-tests/{_open_id(store, classroom)}/trials/{uuid4()}"
    body = {"logged_at": clock().isoformat(), "x_mm": 10, "y_mm": -200}
    first, second = (tablet.put(address, json=body) for _ in range(2))
    assert (200, 200) == (first.status_code, second.status_code)
    assert first.json == second.json
    assert (1, 10.0) == (first.json["position"], first.json["x_mm"])
    assert 422 == tablet.put(address, json=body | {"colour": "red"}).status_code


def test_the_trial_page_and_the_teacher_lead_here(
    tablet: FlaskClient, teacher: FlaskClient, classroom: Classroom
) -> None:
    """Two ways in besides the ladder."""
    assert _base(classroom) in tablet.get(f"/groups/{classroom.group_ids[0]}/trials/new").text
    assert _base(classroom) in teacher.get(f"/groups/{classroom.group_ids[0]}/diagnosis").text
