"""The ladder on a tablet: a question has its moment, and the last answer leads to a test."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from journal.records.work import open_work
from journal.services.ladders import start_climb
from journal.store.engine import Store
from tests.browser.conftest import OpenTablet
from tests.browser.test_log_trial import Student
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom

pytestmark = pytest.mark.browser


def test_from_not_sure_to_a_practice_set_that_counts(
    open_tablet: OpenTablet, store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The button waits three seconds; the counter follows each trial without a new page."""
    group_id = classroom.group_ids[0]
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        start_climb(work, group_id)
    page = open_tablet(classroom.tablets[0])
    page.goto(f"/groups/{group_id}/ladder")
    not_sure = page.get_by_role("button", name="Not sure yet")
    expect(not_sure).to_be_disabled()
    clock.move(seconds=3)
    expect(not_sure).to_be_enabled()
    question = page.locator("h1.question").inner_text()
    not_sure.tap()
    expect(page.locator("h1.question")).not_to_have_text(question)
    expect(page.locator(".ladder")).to_contain_text("Not sure yet.")
    for words in ("They lie low.", "The bands slip.", "It has to go higher."):
        question = page.locator("h1.question").inner_text()
        page.fill("textarea[name=words]", words)
        page.get_by_role("button", name="Keep our answer").tap()
        expect(page.locator("h1.question")).not_to_have_text(question)
    page.fill("textarea[name=words]", "We all do it the same way.")
    page.get_by_text("Practise first").tap()
    page.get_by_role("button", name="Start").tap()
    expect(page.locator("#practice-count")).to_have_text("Practice set: 0 of 6.")
    student = Student(page, group_id)
    student.says_who("Ada")
    student.taps_the_panel(10, 10)
    student.reads("Trial 1 is in")
    expect(page.locator("#practice-count")).to_have_text("Practice set: 1 of 6.")
    assert [] == student.faults
