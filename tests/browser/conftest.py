"""A real Chromium before a real server: each test gets tablets that are signed in."""

from __future__ import annotations

import shutil
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from uuid import uuid4

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright
from werkzeug.serving import make_server

from journal.app import create_app
from journal.domain.actors import Actor
from journal.domain.settings import settings_from
from journal.services.sign_ins import hash_token
from journal.store import sign_ins
from journal.store.engine import Store
from journal.web.request_work import SIGN_IN_COOKIE
from tests.conftest import StandingClock

#: No update, no first-run page, no connection of its own.
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
#: How long a page may take on a machine that does much else; a page that comes is read at once.
PATIENCE_MS = 30_000

OpenTablet = Callable[[Actor], Page]


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """Return the machine's own Chromium."""
    path = shutil.which("chromium")
    assert path, "Install Chromium: apt-get install chromium"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture
def address(store: Store, clock: StandingClock, tmp_path: Path) -> Iterator[str]:
    """Serve the application on the test's store; return its address."""
    settings = settings_from({"JOURNAL_INSTANCE": str(tmp_path / "instance")})
    server = make_server("127.0.0.1", 0, create_app(settings, store, clock), threaded=True)
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    thread.join()
    server.server_close()


@pytest.fixture
def open_tablet(
    chromium: Browser, address: str, store: Store, clock: StandingClock
) -> Iterator[OpenTablet]:
    """Return a function that gives an actor a touch screen of 1024 x 768."""
    opened: list[BrowserContext] = []

    def open_one(actor: Actor) -> Page:
        token = uuid4().hex
        with store.open_session(writing=True) as session:
            sign_ins.add_sign_in(session, hash_token(token), actor, clock())
        context = chromium.new_context(
            base_url=address,
            viewport={"width": 1024, "height": 768},
            has_touch=True,
            is_mobile=True,
        )
        context.add_cookies([{"name": SIGN_IN_COOKIE, "value": token, "url": address}])
        context.set_default_timeout(PATIENCE_MS)
        opened.append(context)
        return context.new_page()

    yield open_one
    for context in opened:
        context.close()
