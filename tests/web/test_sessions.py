"""The session pages in a browser."""

from __future__ import annotations

import re

from flask.testing import FlaskClient

from journal.domain.actors import OPERATOR
from journal.domain.sessions import GateCheck
from journal.records.work import open_work
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.web.conftest import SignIn
from tests.web.forms import forms_of


def test_a_teacher_ends_starts_and_opens_a_session(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """The whole way from one session to launching in the next."""
    teacher.post(f"/sessions/{classroom.session_id}/end")
    absent = classroom.student_ids[0][0]
    started = teacher.post(
        f"/classes/{classroom.class_id}/sessions",
        data={
            "challenge_id": str(classroom.challenge_id),
            "distance": "2 m",
            "lanes": "1",
            "absent": [str(absent)],
        },
        follow_redirects=True,
    )
    assert "2 m away, 1 lane, 1 absent" in started.text
    gate = f"{started.request.path}/gate"
    shut = teacher.post(gate, data={"checks": ["goggles"]})
    assert 422 == shut.status_code
    assert "Not ticked yet" in shut.text
    opened = teacher.post(
        gate, data={"checks": [check.value for check in GateCheck]}, follow_redirects=True
    )
    assert "The lane is open." in opened.text


def test_a_tablet_cannot_open_the_gate(tablet: FlaskClient, classroom: Classroom) -> None:
    """The checklist is the teacher's."""
    answer = tablet.post(f"/sessions/{classroom.session_id}/gate", data={"checks": ["goggles"]})
    assert 403 == answer.status_code


def test_a_refused_start_keeps_what_was_written(teacher: FlaskClient, classroom: Classroom) -> None:
    """The distance comes back as it was written, with the sentence beside it."""
    teacher.post(f"/sessions/{classroom.session_id}/end")
    answer = teacher.post(
        f"/classes/{classroom.class_id}/sessions",
        data={"challenge_id": str(classroom.challenge_id), "distance": "9 yards", "lanes": "1"},
    )
    assert 422 == answer.status_code
    assert "9 yards" in answer.text
    assert "is not a unit" in answer.text


def test_the_end_is_asked_once_and_a_slip_is_mended(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """The page of a session leads to a question; only its answer ends it, and it can go on."""
    page = f"/sessions/{classroom.session_id}"
    assert f'action="{page}/end"' not in teacher.get(page).text
    asked = teacher.get(f"{page}/end").text
    assert "End session 1?" in asked
    assert "pause it instead" in asked
    ended = teacher.post(f"{page}/end", follow_redirects=True).text
    assert "Go on with session 1" in ended
    again = teacher.post(f"{page}/resume", follow_redirects=True).text
    assert "Pause the session" in again


def test_a_pause_is_said_and_offers_to_go_on(teacher: FlaskClient, classroom: Classroom) -> None:
    """On the session's page, on the overview and on the class's: it is the next step."""
    page = f"/sessions/{classroom.session_id}"
    assert "Paused since" in teacher.post(f"{page}/pause", follow_redirects=True).text
    assert "paused since" in teacher.get(f"/classes/{classroom.class_id}/overview").text
    assert "Go on with the session" in teacher.get(f"/classes/{classroom.class_id}").text
    assert "Pause the session" in teacher.post(f"{page}/resume", follow_redirects=True).text


def test_refused_lines_stand_in_their_field_again(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """With the sentence beside them; the notes beside them are not lost either."""
    form = {"plan": "1\n2\n3\n4 is one too many", "notes": "ask Swift"}
    answer = teacher.post(f"/sessions/{classroom.session_id}/texts", data=form)
    assert 422 == answer.status_code
    for words in ("room for 3 lines", "4 is one too many", "ask Swift"):
        assert words in answer.text


def test_a_bridge_session_asks_for_minutes_only(
    store: Store, clock: StandingClock, sign_in: SignIn
) -> None:
    """No distance and no lanes; a class with both chooses by the title of the other one."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), challenge_key="paper_bridge")
    teacher = sign_in(room.teacher)
    sessions = f"/classes/{room.class_id}/sessions"
    teacher.post(f"/sessions/{room.session_id}/end")
    teacher.post(f"/classes/{room.class_id}/challenges", data={"key": "beyond_the_ditch"})
    bridge = teacher.get(sessions).text
    assert 'name="length_min" type="text" value="45"' in bridge
    assert not re.search('name="(distance|lanes)"', bridge)
    form = next(form for form in forms_of(bridge) if "other" in form.values)
    launching = teacher.post(form.action, data=form.values | {"length_min": "30"}).text
    assert 'value="30"' in launching
    assert ["distance", "lanes"] == re.findall('name="(distance|lanes)"', launching)


def test_who_looks_for_the_overview_too_early_is_led_on(
    teacher: FlaskClient,
) -> None:
    """Without a challenge there is nothing to be seen; a program still reads why."""
    desk = teacher.post(
        "/classes/new",
        data={"name": "2A", "band": "2", "language": "en", "retention_date": "2031-06-30"},
    ).location
    assert "Add students" in teacher.get(f"{desk}/overview").text
    counted = teacher.get(f"{desk}/counted")
    assert (303, f"{desk}/challenges") == (counted.status_code, counted.location)
    assert "No challenge is open" in teacher.get(counted.location).text
    told = teacher.get(f"{desk}/counted", headers={"Accept": "application/json"})
    assert (409, "no-challenge") == (told.status_code, told.json["type"].rpartition("/")[2])


def test_a_tablet_is_sent_out_from_the_page_of_the_session(
    teacher: FlaskClient, sign_in: SignIn, classroom: Classroom
) -> None:
    """And the teacher stays on that page, with the minutes left and each child's practice."""
    sign_in(classroom.tablets[0])
    page = teacher.get(f"/sessions/{classroom.session_id}").text
    for words in ("1 of 2 groups are in", "Practice so far", "Ada"):
        assert words in page
    form = next(form for form in forms_of(page) if form.values.get("do") == "send out")
    out = teacher.post(form.action, data=form.values)
    assert (303, f"/sessions/{classroom.session_id}") == (out.status_code, out.location)
    assert "0 of 2 groups are in" in teacher.get(out.location).text


def test_the_minutes_left_are_large_on_the_page_of_the_session(
    teacher: FlaskClient, classroom: Classroom, clock: StandingClock
) -> None:
    """They run down, with the clean-up before the end."""
    teacher.post(f"/sessions/{classroom.session_id}/end")
    sessions = f"/classes/{classroom.class_id}/sessions"
    form = next(form for form in forms_of(teacher.get(sessions).text) if "lanes" in form.values)
    page = teacher.post(sessions, data=form.values | {"length_min": "30"}).location
    clock.move(minutes=12)
    shown = teacher.get(page).text
    assert '<b class="minutes-left">18</b> minutes left' in shown
    assert "in 12 minutes" in shown
