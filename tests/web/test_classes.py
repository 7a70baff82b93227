"""The teacher's classes in a browser."""

from __future__ import annotations

from uuid import uuid4

import pytest
from flask.testing import FlaskClient

from journal.store.engine import Store
from tests.factories.classrooms import Classroom
from tests.services.test_classes import another_teacher
from tests.web.conftest import SignIn

ENTERED = {"name": "6B", "band": "6-8", "language": "en", "retention_date": "2031-07-31"}


def test_a_class_is_made_filled_and_opened(teacher: FlaskClient) -> None:
    """From an empty list to a lesson word: each page says what comes next."""
    made = teacher.post("/classes/new", data=ENTERED, follow_redirects=True)
    assert "6B is made. Add the students next." in made.text
    assert "Nobody is in this class yet." in made.text
    desk = made.request.path
    pasted = {"nicknames": "Pim\nJuno\nTilly\nBo\n"}
    filled = teacher.post(f"{desk}/students/new", data=pasted, follow_redirects=True)
    assert "4 students are added." in filled.text
    dealt = teacher.post(f"{desk}/groups/deal", follow_redirects=True)
    assert "1 group is made." in dealt.text
    assert "Heron" in dealt.text
    opened = teacher.post(f"{desk}/word", data={"hours": "2"}, follow_redirects=True)
    assert "Opens the door until" in opened.text
    shut = teacher.post(f"{desk}/word", data={"do": "end"}, follow_redirects=True)
    assert "No word opens the door now." in shut.text
    assert "6B" in teacher.get("/classes").text


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"name": ""}, "Give the class a name, such as 6B."),
        ({"band": ""}, "Choose the grades."),
        ({"retention_date": "2029-01-01"}, "Choose a date from today on."),
        ({"retention_date": "2040-01-01"}, "That is more than 6 years away."),
    ],
)
def test_a_refused_class_comes_back_filled(
    teacher: FlaskClient, change: dict[str, str], sentence: str
) -> None:
    """The sentence stands beside the field, and the other fields still hold what was entered."""
    entered = ENTERED | change
    answer = teacher.post("/classes/new", data=entered)
    assert 422 == answer.status_code
    assert sentence in answer.text
    assert f'value="{entered["retention_date"]}"' in answer.text
    assert ('name="keep_long"' in answer.text) == ("6 years" in sentence)


def test_a_long_time_is_kept_when_it_is_meant(teacher: FlaskClient) -> None:
    """The tick that the form asks for is enough."""
    entered = ENTERED | {"retention_date": "2040-01-01", "keep_long": "yes"}
    assert 303 == teacher.post("/classes/new", data=entered).status_code


def test_hours_off_the_list_are_refused(teacher: FlaskClient, classroom: Classroom) -> None:
    """A changed form is answered with a sentence."""
    answer = teacher.post(f"/classes/{classroom.class_id}/word", data={"hours": "99"})
    assert 422 == answer.status_code
    assert "Choose from 1 to 8 hours." in answer.text


def test_every_page_of_another_teachers_class_is_not_found(
    sign_in: SignIn, store: Store, classroom: Classroom
) -> None:
    """Nobody learns that the class exists; a tablet is told that it is the teacher's page."""
    stranger = sign_in(another_teacher(store, classroom))
    tablet = sign_in(classroom.tablets[0])
    desk = f"/classes/{classroom.class_id}"
    group = f"{desk}/groups/{classroom.group_ids[0]}"
    student = f"{desk}/students/{classroom.student_ids[0][0]}"
    for path in (desk, f"{desk}/students/new", group, f"{desk}/tablets"):
        assert 404 == stranger.get(path).status_code, path
        assert 403 == tablet.get(path).status_code, path
    posts = {
        f"{desk}/word": {"hours": "2"},
        f"{desk}/door": {"door": "open"},
        f"{desk}/students/new": {"nicknames": "Pim"},
        f"{desk}/groups/deal": {},
        f"{desk}/groups": {"students": str(classroom.student_ids[0][0])},
        f"{group}/name": {"name": "Wren"},
        f"{group}/members": {"students": str(classroom.student_ids[1][0])},
        student: {"place": "none"},
        f"{desk}/tablets": {},
        f"{desk}/tablets/{uuid4()}": {"do": "let in"},
    }
    for path, data in posts.items():
        assert 404 == stranger.post(path, data=data).status_code, path
        assert 403 == tablet.post(path, data=data).status_code, path


def test_nobody_is_sent_to_the_door(nobody: FlaskClient, classroom: Classroom) -> None:
    """Every page of the teacher leads a signed-out browser back to the first step."""
    desk = f"/classes/{classroom.class_id}"
    for path in ("/classes", "/classes/new", "/teacher/password", desk, f"{desk}/students/new"):
        assert "/" == nobody.get(path).location, path
