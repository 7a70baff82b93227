"""The door in a real browser: a tablet knocks, the teacher's desk hears of it, the tablet opens."""

from __future__ import annotations

import shutil
import threading
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect, sync_playwright
from waitress.server import create_server

from journal.app import create_app
from journal.domain.actors import OPERATOR
from journal.domain.settings import settings_from
from journal.services.classes import set_door
from journal.services.lesson_words import make_lesson_word
from journal.services.teachers import set_password
from journal.services.work import open_work
from journal.store import people
from journal.store.engine import Store
from tests.factories.classrooms import Classroom, make_classroom

PASSWORD = "oak ladder noon"


@pytest.fixture
def browser() -> Iterator[Browser]:
    """Return Debian's Chromium."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox"]
        )
        yield browser
        browser.close()


@pytest.fixture
def room(store: Store) -> Classroom:
    """Return a classroom on the machine's own clock, its door set to knock."""
    with open_work(store, OPERATOR) as work:
        room = make_classroom(work.session, datetime.now(UTC))
    with open_work(store, room.teacher) as work:
        set_door(work, room.class_id, "knock")
    return room


@pytest.fixture
def address(store: Store, tmp_path: Path) -> Iterator[str]:
    """Serve the application as `journal serve` does and return its address."""
    settings = settings_from({"JOURNAL_INSTANCE": str(tmp_path / "instance")})
    server = create_server(create_app(settings, store), host="127.0.0.1", port=0, threads=4)
    serving = threading.Thread(target=server.run, daemon=True)
    serving.start()
    yield f"http://127.0.0.1:{server.effective_port}"
    server.close()
    serving.join(timeout=5)


def test_a_tablet_that_knocks_opens_by_itself(
    browser: Browser, address: str, store: Store, room: Classroom
) -> None:
    """Neither the desk nor the tablet is loaded again by hand, and no other site is asked."""
    with open_work(store, room.teacher) as work:
        word = make_lesson_word(work, room.class_id)
        name = people.get_teacher(work.session, room.teacher_id).sign_in_name
    with open_work(store, OPERATOR) as work:
        set_password(work, name, PASSWORD)
    asked: list[str] = []

    desk = browser.new_page()
    desk.on("request", lambda request: asked.append(request.url))
    desk.goto(f"{address}/teacher")
    desk.get_by_label("Sign-in name").fill(name)
    desk.get_by_label("Password").fill(PASSWORD)
    desk.get_by_role("button", name="Sign in").click()
    desk.get_by_role("link", name="Class").first.click()
    expect(desk.get_by_text("No tablet is signed in.")).to_be_visible()

    screen = {"width": 1024, "height": 768}
    tablet = browser.new_context(viewport=screen, has_touch=True).new_page()
    tablet.on("request", lambda request: asked.append(request.url))
    tablet.goto(address)
    tablet.get_by_label("Lesson word").fill(word.replace("-", " "))
    tablet.get_by_role("button", name="Come in").tap()
    tablet.get_by_role("link", name="Group 1").tap()
    tablet.get_by_role("button", name="Ben").tap()
    expect(tablet.get_by_role("heading", name="Your teacher lets you in.")).to_be_visible()

    # The desk asks every 3 s: twice nothing new would have emptied a list that is put in again.
    let_in = desk.get_by_role("button", name="Let in", exact=True)
    expect(let_in).to_be_visible(timeout=10_000)
    desk.wait_for_timeout(4_000)
    let_in.click()
    tablet.wait_for_url(f"{address}/groups/{room.group_ids[0]}/journal", timeout=10_000)
    assert {address} == {url[: len(address)] for url in asked}
