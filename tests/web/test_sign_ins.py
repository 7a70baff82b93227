"""The teacher's sign-in in a browser."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from itertools import product
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from journal.app import create_app
from journal.content.messages import word_message
from journal.domain.actors import OPERATOR
from journal.domain.settings import settings_from
from journal.records.work import open_work
from journal.services.teachers import REFUSED, add_teacher
from journal.store.engine import Store
from journal.web.request_work import SIGN_IN_COOKIE
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.web.test_door import knock, word

__all__ = ["word"]

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
    assert word_message(REFUSED) in answer.text
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


def _guess(app: Flask, name: str, times: int) -> str:
    """Try a password with browsers that throw their cookies away; return the last page."""
    guess = {"sign_in_name": name, "password": "a guess of mine"}
    return [app.test_client().post("/teacher", data=guess).text for _ in range(times)][-1]


def test_wide_letters_give_no_further_guesses(app: Flask, nobody: FlaskClient) -> None:
    """Twenty spellings of one name, by twenty browsers: five are tried."""
    letters = [("r", "R", "\uff52", "\uff32"), ("u", "U", "\uff55", "\u24e4"), ("i",), ("z", "Z")]
    spellings = ["".join(one) for one in product(*letters)][:20]
    told = [_guess(app, name, 1) for name in spellings]
    assert 5 == sum(word_message(REFUSED) in page for page in told)
    assert "Wait 10 seconds" in told[-1]
    entered = RUIZ | {"sign_in_name": "\uff32\uff35\uff29\uff3a"}
    assert "Wait" in nobody.post("/teacher", data=entered).text


def test_the_teachers_own_browser_is_not_locked_by_others(
    app: Flask, nobody: FlaskClient, clock: StandingClock
) -> None:
    """Others wait by name; from the browser that was in before the teacher comes in at once."""
    nobody.post("/teacher", data=RUIZ)
    nobody.post("/sign-out")
    assert "Wait" in _guess(app, "ruiz", 20)
    assert "Wait" in app.test_client().post("/teacher", data=RUIZ).text
    slip = nobody.post("/teacher", data=RUIZ | {"password": "oak ladder moon"})
    assert word_message(REFUSED) in slip.text
    assert "/classes" == nobody.post("/teacher", data=RUIZ).location


def test_a_known_browser_is_held_for_itself(nobody: FlaskClient, app: Flask) -> None:
    """A child at the teacher's laptop has five guesses, and other names are others'."""
    nobody.post("/teacher", data=RUIZ)
    nobody.post("/sign-out")
    for _ in range(5):
        nobody.post("/teacher", data=RUIZ | {"password": "a guess of mine"})
    assert "Wait 10 seconds" in nobody.post("/teacher", data=RUIZ).text
    assert 303 == app.test_client().post("/teacher", data=RUIZ).status_code
    for name in ("vale", "reed", "lowe", "kerr", "bell"):
        nobody.post("/teacher", data={"sign_in_name": name, "password": "a guess of mine"})
    other = nobody.post("/teacher", data={"sign_in_name": "moss", "password": "one more guess"})
    assert "Wait 10 seconds" in other.text


def test_a_lesson_word_buys_no_guesses_at_the_password(
    nobody: FlaskClient, classroom: Classroom, word: str
) -> None:
    """On a tablet that the teacher once used, a child comes in between the guesses."""
    nobody.post("/teacher", data=RUIZ)
    nobody.post("/sign-out")
    told = []
    for _ in range(3):
        guess = RUIZ | {"password": "a guess of mine"}
        told += [nobody.post("/teacher", data=guess).text for _ in range(4)]
        knock(nobody, classroom, word)
        nobody.post("/sign-out")
    assert 5 == sum(word_message(REFUSED) in page for page in told)
    assert "Wait 10 seconds" in told[5]


def test_one_password_tried_with_many_names_is_held_up(app: Flask) -> None:
    """Sixty names in a minute, then every browser that was never in before waits."""
    told = [_guess(app, f"teacher{number}", 1) for number in range(70)]
    assert 60 == sum(word_message(REFUSED) in page for page in told)
    assert "A browser that you never used here waits" in told[-1]


def test_a_restart_forgets_no_wrong_password(
    app: Flask, store: Store, clock: StandingClock, tmp_path: Path
) -> None:
    """Another process on the same database waits as well."""
    _guess(app, "ruiz", 5)
    settings = settings_from({"JOURNAL_INSTANCE": str(tmp_path / "instance")})
    started = create_app(settings, store, clock)
    started.config.update(TESTING=True, WTF_CSRF_ENABLED=False)
    assert "Wait" in started.test_client().post("/teacher", data=RUIZ).text


def test_a_hundred_at_once_are_tried_five_times(
    app: Flask, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each is counted before it is tried, however many arrive at the same time."""
    tried = []
    monkeypatch.setattr("journal.services.teachers._fits", lambda *_: tried.append(1) or False)
    with ThreadPoolExecutor(max_workers=16) as pool:
        list(pool.map(lambda _: _guess(app, "ruiz", 1), range(100)))
    assert 5 == len(tried)


def test_the_present_password_cannot_be_guessed_either(
    nobody: FlaskClient, app: Flask, clock: StandingClock
) -> None:
    """Five tries at an open desk; the teacher's other device is not held up by them."""
    other = app.test_client()
    for browser in (nobody, other):
        browser.post("/teacher", data=RUIZ)
    new = {"password": "elm and river", "again": "elm and river"}
    for _ in range(5):
        nobody.post("/teacher/password", data=new | {"present": "a guess of mine"})
    paused = nobody.post("/teacher/password", data=new | {"present": RUIZ["password"]})
    assert "Wait 10 seconds" in paused.text
    weak = {"present": RUIZ["password"], "password": "sunshine", "again": "sunshine"}
    for _ in range(6):
        assert "Very many people" in other.post("/teacher/password", data=weak).text
    changed = other.post("/teacher/password", data=new | {"present": RUIZ["password"]})
    assert "/teacher" == changed.location


@pytest.mark.parametrize("name", ["ruiz", "nobody", "ru\x00iz", "r" * 100_000])
def test_an_unknown_name_costs_as_much_as_a_known_one(
    nobody: FlaskClient, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """Each is compared with one hash of the same cost, so time tells no name."""
    compared = []
    monkeypatch.setattr(
        "journal.services.teachers._fits", lambda kept, _: compared.append(kept) or False
    )
    nobody.post("/teacher", data={"sign_in_name": name, "password": "a guess of mine"})
    assert ["$argon2id$v=19$m=19456,t=2,p=1"] == [kept.rsplit("$", 2)[0] for kept in compared]


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


def _token(page: str) -> str:
    return page.split('name="csrf_token" value="')[1].split('"', maxsplit=1)[0]


def test_a_form_opened_before_the_sign_in_ends_with_it(app: Flask, nobody: FlaskClient) -> None:
    """Whoever laid a session into this browser before has no token that counts afterwards.

    Session fixation: OWASP ASVS 5.0, 7.2.4 asks for a new session at each sign-in. The same holds
    for a page left open when the teacher signs out.
    """
    app.config["WTF_CSRF_ENABLED"] = True
    before = _token(nobody.get("/teacher").text)
    answer = nobody.post("/teacher", data=RUIZ | {"csrf_token": before})
    assert 303 == answer.status_code
    new = {"name": "4C", "csrf_token": before}
    assert 400 == nobody.post("/classes/new", data=new).status_code
    within = _token(nobody.get("/classes/new").text)
    assert before != within
    assert 303 == nobody.post("/sign-out", data={"csrf_token": within}).status_code
    entered = RUIZ | {"csrf_token": within}
    assert 400 == nobody.post("/teacher", data=entered).status_code
