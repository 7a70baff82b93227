"""What a tablet asks of the lane, and the teacher's switch in a browser."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from flask.testing import FlaskClient

from journal.domain.actors import Role
from journal.domain.sessions import LAUNCHING_CHECKS
from journal.services.sign_ins import IDLE_LIMIT
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.trial_entries import make_bridge_room
from tests.web.conftest import SignIn


def test_tablet_hears_of_a_change_and_otherwise_nothing(
    tablet: FlaskClient, teacher: FlaskClient, classroom: Classroom
) -> None:
    """The same state is 304 without a body; a tap of the teacher makes it another one."""
    address = f"/groups/{classroom.group_ids[0]}/lane"
    first = tablet.get(address)
    assert {"state": "open"} == first.json
    known = {"If-None-Match": first.headers["ETag"]}
    same = tablet.get(address, headers=known)
    assert (304, b"") == (same.status_code, same.data)

    teacher.post(f"/sessions/{classroom.session_id}/lane/close")

    changed = tablet.get(address, headers=known)
    assert (200, {"state": "closed"}) == (changed.status_code, changed.json)


def test_asking_by_itself_keeps_no_sign_in_alive(
    tablet: FlaskClient, classroom: Classroom, clock: StandingClock
) -> None:
    """A tablet that lies about for its idle limit is out, however often its page has asked."""
    address = f"/groups/{classroom.group_ids[0]}/lane"
    for _ in range(IDLE_LIMIT[Role.TABLET] // timedelta(minutes=10)):
        assert 200 == tablet.get(address).status_code
        clock.move(minutes=10)
    clock.move(minutes=1)

    answer = tablet.get(address, headers={"Accept": "application/json"})

    assert 401 == answer.status_code


@pytest.mark.parametrize("page", ["session", "overview"])
def test_switch_stands_on_session_page_and_overview(
    teacher: FlaskClient, classroom: Classroom, page: str
) -> None:
    """One tap closes; the closed one leads to the checklist; the page stays the one it was."""
    address = {
        "session": f"/sessions/{classroom.session_id}",
        "overview": f"/classes/{classroom.class_id}/overview",
    }[page]
    shown = teacher.get(address).text
    assert "Lane open" in shown
    assert 'data-state="open"' in shown

    sent = {"from": "overview"} if page == "overview" else {}
    closed = teacher.post(
        f"/sessions/{classroom.session_id}/lane/close", data=sent, follow_redirects=True
    )

    assert address == closed.request.path
    assert "Lane closed" in closed.text
    assert 'data-state="closed"' in closed.text
    assert f'href="/sessions/{classroom.session_id}#checklist"' in closed.text


def test_reopening_asks_each_line_again(teacher: FlaskClient, classroom: Classroom) -> None:
    """A line short is a 422 with what was ticked still ticked; all of them open it."""
    session = f"/sessions/{classroom.session_id}"
    teacher.post(f"{session}/lane/close")
    lines = [check.value for check in LAUNCHING_CHECKS]

    short = teacher.post(f"{session}/gate", data={"checks": lines[1:]})
    assert 422 == short.status_code
    assert "Goggles are on" in short.text
    opened = teacher.post(f"{session}/gate", data={"checks": lines}, follow_redirects=True)

    assert "The lane is open." in opened.text


def test_near_miss_says_that_the_lane_is_closed(teacher: FlaskClient, classroom: Classroom) -> None:
    """The journal has done it; nothing tells the teacher to."""
    kept = teacher.post(
        f"/groups/{classroom.group_ids[0]}/near-misses", headers={"HX-Request": "true"}
    )

    assert "The near-miss is kept. Lane closed." in kept.text


def test_tablet_page_says_ask_until_its_script_has_heard(
    tablet: FlaskClient, classroom: Classroom
) -> None:
    """Without a script nobody would notice that a state has grown old, so none is shown."""
    page = tablet.get(f"/groups/{classroom.group_ids[0]}/trials/new").text

    assert '<span data-lane="open" hidden>' in page
    assert '<span data-lane="closed" hidden>' in page
    assert '<span data-lane="ask">' in page
    assert "Your teacher&#39;s and your school&#39;s rules come first." in page


def test_tablet_closes_nothing(tablet: FlaskClient, classroom: Classroom) -> None:
    """The switch is the teacher's."""
    answer = tablet.post(f"/sessions/{classroom.session_id}/lane/close")
    assert 403 == answer.status_code


def test_no_session_is_neither_open_nor_closed(
    tablet: FlaskClient, teacher: FlaskClient, classroom: Classroom
) -> None:
    """After the session the tablet says that there is none, by its page and when it asks."""
    group = f"/groups/{classroom.group_ids[0]}"
    teacher.post(f"/sessions/{classroom.session_id}/end")

    assert {"state": "none"} == tablet.get(f"{group}/lane").json
    page = tablet.get(f"{group}/journal").text
    assert 'data-made="none"' in page
    assert "No session now." in page


def test_a_loading_session_has_words_and_a_drawing_of_its_own(
    store: Store, clock: StandingClock, sign_in: SignIn
) -> None:
    """No road stands where nothing is launched: on tablet, session page, checklist and overview."""
    room = make_bridge_room(store, clock)
    teacher, tablet = sign_in(room.teacher), sign_in(room.tablets[0])
    session = f"/sessions/{room.session_id}"
    pages = [
        teacher.get(session).text,
        teacher.get(f"/classes/{room.class_id}/overview").text,
        tablet.get(f"/groups/{room.group_ids[0]}/journal").text,
    ]
    teacher.post(f"{session}/lane/close")
    pages.append(teacher.get(session).text)
    for page in pages:
        assert "#load_open" in page
        assert "#load_closed" in page
        assert not re.search(r"#(open|closed)\b", page)
    assert "Loading until it breaks, everybody is here" in pages[0]
    listed = teacher.get(f"/classes/{room.class_id}/sessions").text
    assert "Loading until it breaks, everybody is here" in listed


def test_a_launching_session_keeps_the_lane(
    teacher: FlaskClient, tablet: FlaskClient, classroom: Classroom
) -> None:
    """Its drawing is the lane's, its words are the distance."""
    for page in (
        teacher.get(f"/sessions/{classroom.session_id}").text,
        tablet.get(f"/groups/{classroom.group_ids[0]}/journal").text,
    ):
        assert "#open" in page
        assert "load_" not in page
    assert "Loading" not in teacher.get(f"/classes/{classroom.class_id}/sessions").text
