"""The students' door in a browser."""

from __future__ import annotations

import pytest
from flask.testing import FlaskClient

from journal.content.messages import word_message
from journal.records.work import open_work
from journal.services.classes import set_door
from journal.services.lesson_words import UNKNOWN, make_lesson_word
from journal.store.engine import Store
from journal.web.request_work import SIGN_IN_COOKIE
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom


@pytest.fixture
def word(store: Store, clock: StandingClock, classroom: Classroom) -> str:
    """Return the class's lesson word."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        return make_lesson_word(work, classroom.class_id)


def knock(browser: FlaskClient, classroom: Classroom, word: str) -> str:
    """Bring word, group and name; return where the tablet is sent."""
    browser.post("/", data={"word": word})
    address = f"/door/groups/{classroom.group_ids[0]}"
    student_id = str(classroom.student_ids[0][0])
    return str(browser.post(address, data={"student_id": student_id}).location)


def test_a_child_comes_in_by_word_group_and_name(
    nobody: FlaskClient, classroom: Classroom, word: str
) -> None:
    """Four screens, one thing to do on each; no word and no name in an address."""
    assert "What is the word on the board?" in nobody.get("/").text
    shelf = nobody.post("/", data={"word": word.upper()}, follow_redirects=True)
    assert "/door/groups" == shelf.request.path
    assert "Which is your group?" in shelf.text
    assert "Ada" not in shelf.text
    names = nobody.get(f"/door/groups/{classroom.group_ids[0]}")
    assert "Who are you?" in names.text
    assert all(name in names.text for name in ("Ada", "Ben", "Cleo"))
    assert "Dara" not in names.text
    assert "/door/wait" == knock(nobody, classroom, word)
    assert f"/groups/{classroom.group_ids[0]}/journal" == nobody.get("/door/wait").location
    assert "/door/wait" == nobody.get("/").location


def test_the_cookie_is_for_the_server_only(
    nobody: FlaskClient, classroom: Classroom, word: str
) -> None:
    """HttpOnly and SameSite, and another one at each sign-in."""
    knock(nobody, classroom, word)
    first = nobody.get_cookie(SIGN_IN_COOKIE)
    knock(nobody, classroom, word)
    second = nobody.get_cookie(SIGN_IN_COOKIE)
    assert first is not None
    assert second is not None
    assert first.value != second.value
    assert (True, "Lax") == (second.http_only, second.same_site)


@pytest.mark.parametrize("typed", ["copper-otter-000", "", "fern 2", "x" * 5000, "<b>", "{{7*7}}"])
def test_every_wrong_word_gets_the_same_answer(
    nobody: FlaskClient, classroom: Classroom, word: str, typed: str
) -> None:
    """It says what to do, stands beside the field, and what was typed is still there."""
    answer = nobody.post("/", data={"word": typed})
    assert 422 == answer.status_code
    assert word_message(UNKNOWN) in answer.text
    assert typed.replace("<", "&lt;").replace(">", "&gt;") in answer.text


def test_guessing_words_gets_slow_for_that_device_only(
    nobody: FlaskClient, app: object, classroom: Classroom, word: str, clock: StandingClock
) -> None:
    """After five wrong words one waits; the tablet beside comes in from the same address."""
    for _ in range(5):
        nobody.post("/", data={"word": "copper-otter-000"})
    paused = nobody.post("/", data={"word": word})
    assert 422 == paused.status_code
    assert "Wait 10 seconds, then try again." in paused.text
    beside = nobody.application.test_client()
    assert "/door/groups" == beside.post("/", data={"word": word}).location
    clock.move(seconds=11)
    assert "/door/groups" == nobody.post("/", data={"word": word}).location


def test_forty_tablets_come_in_from_one_address(
    nobody: FlaskClient, classroom: Classroom, word: str
) -> None:
    """A whole class in one minute, each after one slip."""
    for _ in range(40):
        tablet = nobody.application.test_client()
        tablet.post("/", data={"word": "cooper-otter-472"})
        assert "/door/wait" == knock(tablet, classroom, word)


def test_the_shelf_needs_a_word_that_still_holds(
    nobody: FlaskClient, classroom: Classroom, word: str, store: Store, clock: StandingClock
) -> None:
    """Without one, or once there is a new one, the device starts again at the first step."""
    address = f"/door/groups/{classroom.group_ids[0]}"
    for path in ("/door/groups", address):
        assert "/" == nobody.get(path).location
    nobody.post("/", data={"word": word})
    assert 200 == nobody.get(address).status_code
    with open_work(store, classroom.teacher, clock=clock) as work:
        make_lesson_word(work, classroom.class_id)
    student_id = str(classroom.student_ids[0][0])
    answer = nobody.post(address, data={"student_id": student_id}, follow_redirects=True)
    assert "This lesson word is over." in answer.text
    assert nobody.get_cookie(SIGN_IN_COOKIE) is None


def test_a_name_of_another_group_opens_nothing(
    nobody: FlaskClient, classroom: Classroom, word: str
) -> None:
    """A changed form is answered kindly and signs nobody in."""
    nobody.post("/", data={"word": word})
    address = f"/door/groups/{classroom.group_ids[0]}"
    other = str(classroom.student_ids[1][0])
    assert 404 == nobody.post(address, data={"student_id": other}).status_code
    assert 422 == nobody.post(address, data={"student_id": "Ada"}).status_code
    assert nobody.get_cookie(SIGN_IN_COOKIE) is None


def test_a_tablet_that_knocks_is_let_in_and_sent_out(
    nobody: FlaskClient, teacher: FlaskClient, classroom: Classroom, word: str
) -> None:
    """It waits, the page opens by itself, and sent out it is told so on its next request."""
    teacher.post(f"/classes/{classroom.class_id}/door", data={"door": "knock"})
    assert "/door/wait" == knock(nobody, classroom, word)
    assert "Your teacher lets you in." in nobody.get("/door/wait").text
    assert (204, None) == _asked(nobody)
    desk = teacher.get(f"/classes/{classroom.class_id}").text
    assert "waits at the door" in desk
    teacher.post(f"/classes/{classroom.class_id}/tablets")
    assert (200, "/door/wait") == _asked(nobody)
    assert f"/groups/{classroom.group_ids[0]}/journal" == nobody.get("/door/wait").location
    sign_in_id = _first_tablet(teacher, classroom)
    sent = {"do": "send out"}
    teacher.post(f"/classes/{classroom.class_id}/tablets/{sign_in_id}", data=sent)
    page = nobody.get("/door/wait", follow_redirects=True)
    assert "Your teacher has signed this tablet out." in page.text
    assert "What is the word on the board?" in page.text
    assert (401, "/") == _asked(nobody)


def test_the_desk_hears_of_a_tablet_once(
    nobody: FlaskClient,
    teacher: FlaskClient,
    classroom: Classroom,
    word: str,
    store: Store,
    clock: StandingClock,
) -> None:
    """Nothing is put in again while nothing changes: no button moves under a finger."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        set_door(work, classroom.class_id, "knock")
    address = f"/classes/{classroom.class_id}/tablets"
    empty = teacher.get(address).text
    seen = empty.split("?seen=")[1].split('"')[0]
    assert 204 == teacher.get(f"{address}?seen={seen}").status_code
    knock(nobody, classroom, word)
    news = teacher.get(f"{address}?seen={seen}")
    assert 200 == news.status_code
    assert "Let everyone in who waits" in news.text
    assert "<html" not in news.text


def test_signing_out_ends_tablet_and_teacher(
    nobody: FlaskClient, teacher: FlaskClient, classroom: Classroom, word: str
) -> None:
    """Both go by the same POST, and the old cookie opens nothing any more."""
    knock(nobody, classroom, word)
    kept = nobody.get_cookie(SIGN_IN_COOKIE)
    assert kept is not None
    left = nobody.post("/sign-out", follow_redirects=True)
    assert "You are signed out." in left.text
    nobody.set_cookie(SIGN_IN_COOKIE, kept.value)
    assert "/" == nobody.get("/door/wait").location
    teacher.post("/sign-out")
    assert "/" == teacher.get("/classes").location
    assert 405 == nobody.get("/sign-out").status_code


def _asked(browser: FlaskClient) -> tuple[int, str | None]:
    """Return what a waiting tablet's question brings, as the script would hear it."""
    answer = browser.get("/door/state?seen=let+in", headers={"HX-Request": "true"})
    return answer.status_code, answer.headers.get("HX-Redirect")


def _first_tablet(teacher: FlaskClient, classroom: Classroom) -> str:
    listed = teacher.get(f"/classes/{classroom.class_id}/tablets").text
    return listed.split(f"/classes/{classroom.class_id}/tablets/")[1].split('"')[0]
