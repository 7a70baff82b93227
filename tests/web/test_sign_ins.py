"""The teacher's sign-in in a browser."""

from __future__ import annotations

import pytest
from flask.testing import FlaskClient

from journal.domain.actors import OPERATOR
from journal.services.teachers import REFUSED, add_teacher
from journal.services.work import open_work
from journal.store.engine import Store
from journal.web.request_work import SIGN_IN_COOKIE
from tests.conftest import StandingClock

RUIZ = {"sign_in_name": "ruiz", "password": "oak ladder noon"}


@pytest.fixture(autouse=True)
def _ruiz(store: Store, clock: StandingClock) -> None:
    with open_work(store, OPERATOR, clock=clock) as work:
        add_teacher(work, "ruiz", "Ms Ruiz", RUIZ["password"])


def test_a_teacher_signs_in_and_sees_the_classes(nobody: FlaskClient) -> None:
    """From the door to an empty list that says what to do first."""
    assert 'href="/teacher"' in nobody.get("/").text
    classes = nobody.post("/teacher", data=RUIZ, follow_redirects=True)
    assert "/classes" == classes.request.path
    assert "Ms Ruiz" in classes.text
    assert "Make your first class" in classes.text
    assert "/classes" == nobody.get("/").location


@pytest.mark.parametrize(
    "wrong", [{"password": "oak ladder moon"}, {"sign_in_name": "nobody"}, {"sign_in_name": ""}]
)
def test_a_refused_sign_in_keeps_the_name_and_never_the_password(
    nobody: FlaskClient, wrong: dict[str, str]
) -> None:
    """One answer for an unknown name and a wrong password."""
    entered = RUIZ | wrong
    answer = nobody.post("/teacher", data=entered)
    assert 422 == answer.status_code
    assert REFUSED in answer.text
    assert f'value="{entered["sign_in_name"]}"' in answer.text
    assert entered["password"] not in answer.text
    assert nobody.get_cookie(SIGN_IN_COOKIE) is None


@pytest.mark.parametrize("name", ["ruiz", "nobody"])
def test_guessing_gets_slow_for_each_name_known_or_not(
    nobody: FlaskClient, clock: StandingClock, name: str
) -> None:
    """The pause is counted by the name, from whatever device; waiting ends it."""
    for _ in range(5):
        guess = {"sign_in_name": name.upper(), "password": "a guess of mine"}
        nobody.application.test_client().post("/teacher", data=guess)
    paused = nobody.post("/teacher", data=RUIZ | {"sign_in_name": name})
    assert "That did not fit several times. Wait 10 seconds" in paused.text
    clock.move(seconds=11)
    again = nobody.post("/teacher", data=RUIZ | {"sign_in_name": name})
    assert ("ruiz" == name) == (303 == again.status_code)


def test_a_changed_password_signs_every_device_out(nobody: FlaskClient) -> None:
    """A slip is told beside its field; then the new one is asked for everywhere."""
    other = nobody.application.test_client()
    for browser in (nobody, other):
        browser.post("/teacher", data=RUIZ)
    entered = {"present": RUIZ["password"], "password": "short", "again": "short"}
    refused = nobody.post("/teacher/password", data=entered)
    assert 422 == refused.status_code
    assert "Use at least 8 characters." in refused.text
    entered |= {"password": "elm and river", "again": "elm and river"}
    changed = nobody.post("/teacher/password", data=entered, follow_redirects=True)
    assert "Your password is changed." in changed.text
    for browser in (nobody, other):
        assert "/" == browser.get("/classes").location
    new = RUIZ | {"password": "elm and river"}
    assert "/classes" == nobody.post("/teacher", data=new).location
