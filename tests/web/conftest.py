"""The application as a browser meets it: nobody, a teacher, or the tablet of a group."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from uuid import uuid4

import pytest
from flask import Flask
from flask.testing import FlaskClient

from journal.app import create_app
from journal.domain.actors import Actor
from journal.domain.settings import settings_from
from journal.services.sign_ins import hash_token
from journal.store import sign_ins
from journal.store.engine import Store
from journal.web.request_work import SIGN_IN_COOKIE
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom

SignIn = Callable[[Actor], FlaskClient]


@pytest.fixture
def instance(tmp_path: Path) -> Path:
    """Return the folder of what the application keeps."""
    return tmp_path / "instance"


@pytest.fixture
def app(store: Store, clock: StandingClock, tmp_path: Path) -> Flask:
    """Return the application on the test's store and clock; forms need no token here."""
    settings = settings_from({"JOURNAL_INSTANCE": str(tmp_path / "instance")})
    app = create_app(settings, store, clock)
    app.config.update(TESTING=True, WTF_CSRF_ENABLED=False)
    return app


@pytest.fixture
def nobody(app: Flask) -> FlaskClient:
    """Return a browser that has not signed in."""
    return app.test_client()


@pytest.fixture
def sign_in(app: Flask, store: Store, clock: StandingClock) -> SignIn:
    """Return a function that gives an actor a signed-in browser of its own."""

    def give_browser(actor: Actor) -> FlaskClient:
        token = uuid4().hex
        with store.open_session(writing=True) as session:
            sign_ins.add_sign_in(session, hash_token(token), actor, clock())
        browser = app.test_client()
        browser.set_cookie(SIGN_IN_COOKIE, token)
        return browser

    return give_browser


@pytest.fixture
def teacher(sign_in: SignIn, classroom: Classroom) -> FlaskClient:
    """Return the browser of the classroom's teacher."""
    return sign_in(classroom.teacher)


@pytest.fixture
def tablet(sign_in: SignIn, classroom: Classroom) -> FlaskClient:
    """Return the tablet of the classroom's first group."""
    return sign_in(classroom.tablets[0])
