"""Guessing lesson words: strangers are held up together, nobody who was in before."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
import sqlalchemy as sa
from flask import Flask
from flask.testing import FlaskClient

from journal.app import create_app
from journal.content.messages import word_message
from journal.domain.settings import settings_from
from journal.services import browsers
from journal.services.lesson_words import UNKNOWN
from journal.store.engine import Store
from journal.store.guesses import TallyRow
from journal.web.browsers import BROWSER_COOKIE
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.web.test_door import knock, word

__all__ = ["word"]


def _guess(app: Flask, times: int) -> list[int]:
    """Try words, each with a browser that has thrown its cookies away; return what came."""
    return [
        app.test_client().post("/", data={"word": f"copper-otter-{number % 1000:03}"}).status_code
        for number in range(times)
    ]


def test_throwing_the_cookie_away_gives_no_further_guesses(
    app: Flask, classroom: Classroom, word: str, clock: StandingClock
) -> None:
    """After sixty in a minute a stranger waits, from whatever address it says it comes."""
    _guess(app, 60)
    stranger = app.test_client()
    for forwarded in ("203.0.113.7", "198.51.100.1, 10.0.0.1"):
        sent = {"X-Forwarded-For": forwarded, "Forwarded": f"for={forwarded}"}
        paused = stranger.post("/", data={"word": word}, headers=sent)
        assert 422 == paused.status_code
        assert "A new tablet waits 30 seconds now." in paused.text
    clock.move(seconds=31)
    assert "/door/groups" == stranger.post("/", data={"word": word}).location


def test_a_cookie_played_again_is_counted_on(
    nobody: FlaskClient, app: Flask, classroom: Classroom, word: str
) -> None:
    """The count is the journal's, so the cookie of before the first slip is worth nothing."""
    nobody.post("/", data={"word": "copper-otter-000"})
    kept = nobody.get_cookie(BROWSER_COOKIE)
    assert kept is not None
    assert (True, "Lax") == (kept.http_only, kept.same_site)
    for _ in range(4):
        again = app.test_client()
        again.set_cookie(BROWSER_COOKIE, kept.value)
        again.post("/", data={"word": "copper-otter-000"})
    again.set_cookie(BROWSER_COOKIE, kept.value)
    assert "Wait 10 seconds" in again.post("/", data={"word": word}).text


def test_guessing_by_others_holds_up_no_tablet_that_was_in_before(
    app: Flask, classroom: Classroom, word: str
) -> None:
    """Thirty tablets that were in come in while a stranger guesses, one slip each."""
    tablets = [app.test_client() for _ in range(30)]
    for tablet in tablets:
        assert "/door/wait" == knock(tablet, classroom, word)
        tablet.post("/sign-out")
    _guess(app, 200)
    for tablet in tablets:
        slip = tablet.post("/", data={"word": "copper-otter-000"})
        assert word_message(UNKNOWN) in slip.text
        assert "/door/wait" == knock(tablet, classroom, word)


def test_a_right_word_buys_no_guesses_at_another_one(
    nobody: FlaskClient, classroom: Classroom, word: str
) -> None:
    """Four wrong ones and a right one in turn, coming in each time: five are looked up."""
    knock(nobody, classroom, word)
    told = []
    for _ in range(3):
        told += [nobody.post("/", data={"word": f"copper-otter-{one:03}"}).text for one in range(4)]
        knock(nobody, classroom, word)
        nobody.post("/sign-out")
    assert 5 == sum(word_message(UNKNOWN) in page for page in told)
    assert "Wait 10 seconds" in told[-1]


def test_new_tablets_without_end_are_not_all_known(
    app: Flask, classroom: Classroom, word: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Beyond so many an hour they come in as ever, but their wrong words count as strangers'."""
    monkeypatch.setattr(browsers, "MOST_AN_HOUR", 3)
    tablets = [app.test_client() for _ in range(4)]
    for tablet in tablets:
        assert "/door/wait" == knock(tablet, classroom, word)
        tablet.post("/sign-out")
    _guess(app, 60)
    told = [tablet.post("/", data={"word": "copper-otter-000"}).text for tablet in tablets]
    assert [True] * 3 + [False] == [word_message(UNKNOWN) in page for page in told]


def test_a_restart_forgets_no_guess(
    app: Flask, store: Store, clock: StandingClock, tmp_path: Path, classroom: Classroom, word: str
) -> None:
    """Another process on the same database waits as well."""
    _guess(app, 60)
    settings = settings_from({"JOURNAL_INSTANCE": str(tmp_path / "instance")})
    started = create_app(settings, store, clock)
    started.config.update(TESTING=True, WTF_CSRF_ENABLED=False)
    assert 422 == started.test_client().post("/", data={"word": word}).status_code


def test_a_token_that_somebody_else_put_there_is_worth_nothing(
    nobody: FlaskClient, app: Flask, classroom: Classroom, word: str
) -> None:
    """Each sign-in gives the browser a new token; the planted one stays a stranger's."""
    nobody.set_cookie(BROWSER_COOKIE, "planted")
    knock(nobody, classroom, word)
    kept = nobody.get_cookie(BROWSER_COOKIE)
    assert kept is not None
    assert "planted" != kept.value
    _guess(app, 60)
    thief = app.test_client()
    thief.set_cookie(BROWSER_COOKIE, "planted")
    assert "A new tablet waits" in thief.post("/", data={"word": word}).text
    nobody.post("/sign-out")
    assert "/door/wait" == knock(nobody, classroom, word)


def test_the_teacher_reads_of_guessing_and_lets_new_tablets_try(
    app: Flask,
    teacher: FlaskClient,
    classroom: Classroom,
    word: str,
    clock: StandingClock,
    store: Store,
) -> None:
    """The desk says so by itself; one tap, and a class of new tablets comes in meanwhile."""
    address = f"/classes/{classroom.class_id}/tablets"
    calm = teacher.get(address).text
    assert "guessing" not in calm
    seen = calm.split("?seen=")[1].split('"')[0]
    _guess(app, 60)
    told = teacher.get(f"{address}?seen={seen}")
    assert "Somebody is guessing lesson words: 60 that did not fit within a minute" in told.text
    assert "Let new tablets try for 2 minutes" in told.text
    assert "Somebody is guessing" in teacher.get(f"/classes/{classroom.class_id}").text
    teacher.post(f"{address}/new")
    assert "You let new tablets try now." in teacher.get(address).text
    kept = _count_tallies(store)
    _guess(app, 100)
    for _ in range(30):
        assert "/door/wait" == knock(app.test_client(), classroom, word)
    assert kept == _count_tallies(store)
    clock.move(minutes=2)
    _guess(app, 60)
    assert "A new tablet waits" in app.test_client().post("/", data={"word": word}).text
    clock.move(minutes=16)
    assert "guessing" not in teacher.get(address).text


def _count_tallies(store: Store) -> int:
    """Return how many tallies there are: a flood is not to write one a guess."""
    with store.open_session(writing=False) as session:
        return session.scalar(sa.select(sa.func.count()).select_from(TallyRow)) or 0


def test_a_hundred_guesses_at_once_are_counted_one_by_one(
    app: Flask, classroom: Classroom, word: str
) -> None:
    """No more than sixty are looked up, however many arrive at the same time."""

    def guess(number: int) -> bool:
        browser = app.test_client()
        return (
            word_message(UNKNOWN)
            in browser.post("/", data={"word": f"copper-otter-{number:03}"}).text
        )

    with ThreadPoolExecutor(max_workers=16) as pool:
        assert 60 == sum(pool.map(guess, range(100)))
