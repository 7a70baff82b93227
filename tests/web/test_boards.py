"""The board in a browser: put up by the teacher, read by everybody, for one session."""

from __future__ import annotations

import re

import pytest
from flask.testing import FlaskClient

from journal.domain.actors import OPERATOR
from journal.records.work import open_work
from journal.store.engine import Store
from journal.web.request_work import BOARD_COOKIE, SIGN_IN_COOKIE
from tests.conftest import StandingClock
from tests.factories.classrooms import NICKNAMES, Classroom, make_classroom
from tests.web.conftest import SignIn

SEEN = re.compile(r"seen=([0-9a-f]+)")


def _put_up(teacher: FlaskClient, room: Classroom) -> str:
    address = f"/classes/{room.class_id}/board"
    answer = teacher.post(address)
    assert (303, address) == (answer.status_code, answer.location)
    return address


def test_the_board_stays_up_when_its_teacher_signs_out(
    teacher: FlaskClient, classroom: Classroom, clock: StandingClock
) -> None:
    """It opens nothing else, and an hour's polling ends neither it nor keeps the teacher in."""
    address = _put_up(teacher, classroom)
    cookie = teacher.get_cookie(BOARD_COOKIE, path=address)
    assert cookie is not None
    assert (address, True) == (cookie.path, cookie.http_only)
    teacher.delete_cookie(SIGN_IN_COOKIE)
    for _ in range(7):
        clock.move(minutes=30)
        assert 200 == teacher.get(f"{address}/now").status_code
    assert 200 == teacher.get(address).status_code
    for other in (f"/classes/{classroom.class_id}", f"/sessions/{classroom.session_id}"):
        assert "/" == teacher.get(other).location


def test_the_board_ends_with_its_session(
    teacher: FlaskClient, sign_in: SignIn, classroom: Classroom
) -> None:
    """A projector that is left on goes back to the door."""
    address = _put_up(teacher, classroom)
    desk = sign_in(classroom.teacher)
    teacher.delete_cookie(SIGN_IN_COOKIE)
    desk.post(f"/sessions/{classroom.session_id}/end")
    assert "/" == teacher.get(address).location
    now = teacher.get(f"{address}/now", headers={"HX-Request": "true"})
    assert (401, "/") == (now.status_code, now.headers["HX-Redirect"])


def test_looking_at_the_board_keeps_no_teacher_signed_in(
    teacher: FlaskClient, classroom: Classroom, clock: StandingClock
) -> None:
    """Before it is put up the page asks as well, and that is no use of the teacher's sign-in."""
    address = f"/classes/{classroom.class_id}/board"
    for _ in range(3):
        clock.move(minutes=25)
        answer = teacher.get(f"{address}/now")
    assert (303, "/") == (answer.status_code, answer.location)


def test_the_board_names_groups_and_no_child(teacher: FlaskClient, classroom: Classroom) -> None:
    """Word, lines for today, minutes and lane are there; a nickname never is."""
    class_id = classroom.class_id
    teacher.post(f"/classes/{class_id}/word", data={"hours": "2"})
    texts = {"plan": "Change one thing and test it", "notes": "ask Swift"}
    teacher.post(f"/sessions/{classroom.session_id}/texts", data=texts)
    page = teacher.get(_put_up(teacher, classroom)).text
    assert re.search(r'class="board-word">[a-z]+-[a-z]+-\d{3}<', page)
    for words in ("Change one thing and test it", "0 of 2 groups are in", "Lane open.", "Goggles"):
        assert words in page
    assert "ask Swift" not in page
    names = [name for group in NICKNAMES for name in group]
    assert [] == [name for name in names if re.search(rf"\b{name}\b", page)]


def test_the_board_answers_only_what_has_moved(
    teacher: FlaskClient, sign_in: SignIn, classroom: Classroom
) -> None:
    """A group that comes in, a new word and another lane are news, each once."""
    address = _put_up(teacher, classroom)
    seen = SEEN.search(teacher.get(address).text)
    assert seen
    assert 204 == teacher.get(f"{address}/now?seen={seen[1]}").status_code
    sign_in(classroom.tablets[0])
    news = teacher.get(f"{address}/now?seen={seen[1]}")
    assert 200 == news.status_code
    assert "1 of 2 groups are in" in news.text
    lane = teacher.get(f"{address}/lane")
    assert {"state": "open"} == lane.json
    again = teacher.get(f"{address}/lane", headers={"If-None-Match": lane.headers["ETag"]})
    assert 304 == again.status_code
    sign_in(classroom.teacher).post(f"/sessions/{classroom.session_id}/lane/close")
    assert {"state": "closed"} == teacher.get(f"{address}/lane").json


def test_without_a_session_the_board_says_what_is_missing(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """Nothing refuses: the teacher is led to start one."""
    teacher.post(f"/sessions/{classroom.session_id}/end")
    page = teacher.get(_put_up(teacher, classroom))
    assert "no session now" in page.text
    assert "Start a session" in page.text
    assert teacher.get_cookie(BOARD_COOKIE, path=page.request.path) is None


@pytest.mark.parametrize(
    ("host", "link"),
    [
        ("192.0.2.7:8080", "192.0.2.7:8080"),
        ("journal.example:8080", "journal.example:8080"),
        ("localhost:8080", ""),
        ("127.0.0.1", ""),
        ("[::1]:8080", ""),
    ],
)
def test_the_address_is_the_one_that_answered(
    teacher: FlaskClient, classroom: Classroom, host: str, link: str
) -> None:
    """The name under which this browser found the journal; never that of the machine itself."""
    teacher.set_cookie(SIGN_IN_COOKIE, _token_of(teacher), domain=host.partition(":")[0])
    answer = teacher.get(f"/classes/{classroom.class_id}/board", base_url=f"http://{host}")
    found = [
        re.sub("<[^>]+>", "", shown)
        for shown in re.findall(r'class="address">(.*?)</p>', answer.text)
    ]
    assert link == (found[0] if link else "")
    assert host not in (found if not link else [])


def test_a_bridge_has_no_lane_to_fly_along(
    store: Store, clock: StandingClock, sign_in: SignIn
) -> None:
    """What loads until it breaks has its own words; its board has no panel and no dart."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), challenge_key="paper_bridge")
    page = sign_in(room.teacher).get(f"/classes/{room.class_id}/board").text
    assert "Loading open." in page
    assert "Lane" not in page


def _token_of(browser: FlaskClient) -> str:
    cookie = browser.get_cookie(SIGN_IN_COOKIE)
    assert cookie is not None
    return cookie.value
