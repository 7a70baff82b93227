"""The form that starts a session, with two challenges open in the class."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

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
        opened = challenges.add_challenge(work.session, school_class, bridge, clock())
    page = open_tablet(classroom.teacher)
    page.goto(f"/classes/{classroom.class_id}/sessions")
    challenge, distance = page.locator("[name=challenge_id]"), page.locator("[name=distance]")
    expect(distance).to_have_value("2.5 m")
    challenge.select_option(value=str(opened.id))
    expect(distance).to_have_value("")
    challenge.select_option(value=str(classroom.challenge_id))
    expect(distance).to_have_value("2.5 m")
    distance.fill("2 m")
    challenge.select_option(value=str(opened.id))
    expect(distance).to_have_value("2 m")
