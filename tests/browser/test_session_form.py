"""The form that starts a session, with two challenges open in the class."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from journal.content.library import get_ready_challenge
from journal.records.work import open_work
from journal.store import challenges, classes, sessions
from journal.store.engine import Store
from tests.browser.conftest import OpenTablet
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom

pytestmark = pytest.mark.browser


def test_another_challenge_brings_its_own_distance(
    store: Store, clock: StandingClock, classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """A bridge has none; back at the darts theirs is there again; what was written stays."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        sessions.end_session(work.session, classroom.session_id, clock())
        school_class = classes.get_class(work.session, classroom.class_id)
        bridge = get_ready_challenge("paper_bridge")
        challenges.add_challenge(work.session, school_class, bridge, clock())
    page = open_tablet(classroom.teacher)
    page.goto(f"/classes/{classroom.class_id}/sessions")
    distance = page.locator("input:not([type=hidden])[name=distance]")
    expect(distance).to_have_value("2.5 m")
    _choose(page, bridge.title)
    expect(distance).to_have_count(0)
    _choose(page, classroom.challenge.title)
    expect(distance).to_have_value("2.5 m")
    distance.fill("2 m")
    page.locator("label.tile:has(input[name=absent])").first.click()
    _choose(page, bridge.title)
    _choose(page, classroom.challenge.title)
    expect(distance).to_have_value("2 m")
    expect(page.locator("input[name=absent]").first).to_be_checked()


def _choose(page: Page, title: str) -> None:
    page.get_by_role("button", name=f"{title} instead").click()
