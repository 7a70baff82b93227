"""The line of the lane on a tablet, in a real browser: a change, a silence, and a screen in use."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from journal.domain.sessions import LAUNCHING_CHECKS
from journal.records.work import open_work
from journal.services.lanes import close_lane
from journal.services.sessions import open_gate
from journal.store.engine import Store
from tests.browser.conftest import OpenTablet
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom

pytestmark = pytest.mark.browser

#: 3 s are the goal, measured in tests/bench/lane_polling.py; the machine of the tests is shared.
SEEN_WITHIN_MS = 6_000
UNHEARD_MS = 10_000


def says(page: Page, words: str, within_ms: int = SEEN_WITHIN_MS) -> None:
    """Wait until the line of the lane reads so, and nothing else."""
    line = page.locator("#lane")
    expect(line.locator("[data-lane]:visible")).to_have_count(1, timeout=within_ms)
    expect(line.locator("[data-lane]:visible")).to_have_text(words, timeout=within_ms)


def test_tablet_sees_the_lane_close_and_open_again(
    store: Store, clock: StandingClock, classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """Nothing is tapped or loaded on the tablet, and a trial can be logged all the while."""
    page = open_tablet(classroom.tablets[0])
    page.goto(f"/groups/{classroom.group_ids[0]}/trials/new")
    says(page, "Lane open.")

    with open_work(store, classroom.teacher, clock=clock) as work:
        close_lane(work, classroom.session_id)
    says(page, "Lane closed.")
    expect(page.locator("#place")).to_be_visible()

    with open_work(store, classroom.teacher, clock=clock) as work:
        open_gate(work, classroom.session_id, [check.value for check in LAUNCHING_CHECKS])
    says(page, "Lane open.")


def test_tablet_without_the_journal_says_ask(
    store: Store, clock: StandingClock, classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """After 10 s without an answer no state is shown; with the network the true one comes back."""
    page = open_tablet(classroom.tablets[0])
    page.goto(f"/groups/{classroom.group_ids[0]}/journal")
    says(page, "Lane open.")
    page.context.set_offline(True)
    with open_work(store, classroom.teacher, clock=clock) as work:
        close_lane(work, classroom.session_id)
    page.wait_for_timeout(4_000)
    says(page, "Lane open.")

    says(page, "Ask: is the lane open?", UNHEARD_MS)

    page.context.set_offline(False)
    says(page, "Lane closed.")


def test_page_of_another_network_is_no_answer(
    classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """A 200 with something else in it, as a network with a sign-in page gives, is not believed."""
    page = open_tablet(classroom.tablets[0])
    page.goto(f"/groups/{classroom.group_ids[0]}/journal")
    says(page, "Lane open.")
    page.route("**/lane", lambda route: route.fulfill(status=200, body="<html>Welcome</html>"))

    says(page, "Ask: is the lane open?", UNHEARD_MS + 3_000)
