"""The door in a real browser: a tablet knocks, the teacher's desk hears of it, the tablet opens."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from journal.domain.actors import OPERATOR
from journal.records.work import open_work
from journal.services.classes import set_door
from journal.services.lesson_words import make_lesson_word
from journal.services.teachers import set_password
from journal.store import people
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom

PASSWORD = "oak ladder noon"
PATIENCE_MS = 10_000


@pytest.fixture
def desk(chromium: Browser) -> Iterator[Page]:
    """Return a teacher's screen."""
    context = chromium.new_context()
    yield _patient(context)
    context.close()


@pytest.fixture
def tablet(chromium: Browser) -> Iterator[Page]:
    """Return a touch screen that nobody has signed in on."""
    screen = {"width": 1024, "height": 768}
    context = chromium.new_context(viewport=screen, has_touch=True)  # type: ignore[arg-type]
    yield _patient(context)
    context.close()


def test_a_tablet_that_knocks_opens_by_itself(
    desk: Page,
    tablet: Page,
    address: str,
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
) -> None:
    """Neither the desk nor the tablet is loaded again by hand, and no other site is asked."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        set_door(work, classroom.class_id, "knock")
        word = make_lesson_word(work, classroom.class_id)
        name = people.get_teacher(work.session, classroom.teacher_id).sign_in_name
    with open_work(store, OPERATOR, clock=clock) as work:
        set_password(work, name, PASSWORD)
    asked: list[str] = []
    for page in (desk, tablet):
        page.on("request", lambda request: asked.append(request.url))

    desk.goto(f"{address}/teacher")
    desk.get_by_label("Sign-in name").fill(name)
    desk.get_by_label("Password").fill(PASSWORD)
    desk.get_by_role("button", name="Sign in").click()
    desk.get_by_role("link", name="Class").first.click()
    expect(desk.get_by_text("No tablet is signed in.")).to_be_visible(timeout=PATIENCE_MS)

    tablet.goto(address)
    tablet.get_by_label("Lesson word").fill(word.replace("-", " "))
    tablet.get_by_role("button", name="Come in").tap()
    tablet.get_by_role("link", name="Group 1, ").tap()
    tablet.get_by_role("button", name="Ben").tap()
    waits = tablet.get_by_role("heading", name="Your teacher lets you in.")
    expect(waits).to_be_visible(timeout=PATIENCE_MS)

    let_in = desk.get_by_role("button", name="Let in", exact=True)
    expect(let_in).to_be_visible(timeout=PATIENCE_MS)
    # Two more questions of the desk that bring nothing new: the list stays as it is.
    for _ in range(2):
        with desk.expect_response(lambda answer: answer.status == 204):
            pass
    let_in.click()
    tablet.wait_for_url(f"{address}/groups/{classroom.group_ids[0]}/journal")
    assert {address} == {url[: len(address)] for url in asked}


def _patient(context: BrowserContext) -> Page:
    """Return a page on which a busy machine has time to answer."""
    context.set_default_timeout(PATIENCE_MS)
    return context.new_page()
