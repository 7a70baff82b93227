"""Late trials in a browser: what the tablet is told, and the teacher's page."""

from __future__ import annotations

from uuid import uuid4

import pytest
from flask.testing import FlaskClient

from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.web.test_trial_api import body_of


@pytest.fixture
def parked_id(
    teacher: FlaskClient, tablet: FlaskClient, classroom: Classroom, clock: StandingClock
) -> str:
    """Return the id of an entry made after the session had ended and sent half an hour later."""
    teacher.post(f"/sessions/{classroom.session_id}/end")
    clock.move(minutes=2)
    body = body_of(classroom, clock)
    clock.move(minutes=30)
    trial_id = str(uuid4())
    answer = tablet.put(f"/api/trials/{trial_id}", json=body | {"sent_at": clock().isoformat()})
    assert 202 == answer.status_code
    assert ("waiting", "no_session") == (answer.json["state"], answer.json["why"])
    assert "Your teacher says where it goes" in answer.json["sentence"]
    return trial_id


def test_teacher_finds_the_page_and_places_the_entry(
    teacher: FlaskClient, classroom: Classroom, parked_id: str
) -> None:
    """From the overview to the page, one choice, and nothing waits any more."""
    address = f"/classes/{classroom.class_id}/late-trials"
    for page in (f"/classes/{classroom.class_id}/overview", f"/sessions/{classroom.session_id}"):
        assert f'href="{address}"' in teacher.get(page).text
    assert "Ada, Blaze, 8 points, practice" in teacher.get(address).text

    placed = teacher.post(
        f"/late-trials/{parked_id}/place",
        data={"session_id": str(classroom.session_id), "kind": "practice"},
        follow_redirects=True,
    )

    assert address == placed.request.path
    assert "Nothing waits to be placed." in placed.text
    assert "Placed in session 1" in placed.text


def test_discarding_asks_for_a_reason_and_keeps_it(
    teacher: FlaskClient, classroom: Classroom, parked_id: str
) -> None:
    """An empty reason is a 422 on the same page; a given one stays to be read."""
    empty = teacher.post(f"/late-trials/{parked_id}/discard", data={"reason": ""})
    assert 422 == empty.status_code
    assert "Say in a few words why" in empty.text

    done = teacher.post(
        f"/late-trials/{parked_id}/discard",
        data={"reason": "Played <b>after</b> the lesson"},
        follow_redirects=True,
    )

    assert "Played &lt;b&gt;after&lt;/b&gt; the lesson" in done.text


def test_no_session_chosen_is_said(teacher: FlaskClient, parked_id: str) -> None:
    """The sentence stands with the entry."""
    answer = teacher.post(f"/late-trials/{parked_id}/place", data={"session_id": "x"})
    assert 422 == answer.status_code
    assert "Choose a session." in answer.text


def test_late_trials_are_the_teachers(
    tablet: FlaskClient, nobody: FlaskClient, classroom: Classroom, parked_id: str
) -> None:
    """A tablet neither reads the page nor decides."""
    assert 404 == tablet.get(f"/classes/{classroom.class_id}/late-trials").status_code or (
        403 == tablet.get(f"/classes/{classroom.class_id}/late-trials").status_code
    )
    for way in ("place", "discard"):
        address = f"/late-trials/{parked_id}/{way}"
        assert tablet.post(address, data={"reason": "no"}).status_code in {403, 404}
        assert nobody.post(address, data={"reason": "no"}).status_code in {303, 401}
