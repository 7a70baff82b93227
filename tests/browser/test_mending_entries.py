"""Mending what a tablet is about to log: a slip in a field, an entry that was none."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from journal.domain.trials import TrialState
from journal.store.engine import Store
from tests.browser.conftest import OpenTablet
from tests.browser.test_log_trial import Student, kept_trials
from tests.factories.classrooms import Classroom

pytestmark = pytest.mark.browser


def test_taking_back_works_without_a_network(
    store: Store, classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """What waits is taken back before what is in; both are struck once the network is there."""
    student = Student(open_tablet(classroom.tablets[0]), classroom.group_ids[0])
    student.says_who("Ada")
    student.taps_the_panel(30, 0)
    student.reads("Trial 1 is in")
    student.page.context.route("**/api/**", lambda route: route.abort())
    notice = student.page.locator("#waiting")
    student.page.locator("#take-back button").tap()
    expect(notice).to_contain_text("1 entry is taken back.")
    told = student.page.locator("#told")
    expect(told).to_have_text("Taken back. The journal hears it when the network is there.")
    expect(student.page.locator("#take-back")).to_be_hidden()
    student.taps_the_panel(60, 0)
    ring = student.page.locator("#on-its-way")
    expect(ring).not_to_have_attribute("visibility", "hidden")
    expect(notice).to_contain_text("1 entry waits for the network. 1 entry is taken back.")
    student.page.locator("#take-back-waiting", has_text="Take back: Ada").tap()
    expect(student.page.locator("#take-back-waiting")).to_be_hidden()
    expect(ring).to_have_attribute("visibility", "hidden")
    expect(notice).not_to_contain_text("wait")
    student.page.reload()
    expect(notice).to_contain_text("2 entries are taken back.")

    student.page.context.unroute("**/api/**")
    student.page.evaluate("dispatchEvent(new Event('online'))")
    student.reads("Trial 2 was taken back")

    assert [TrialState.STRUCK] * 2 == [one.state for one in kept_trials(store, classroom)]
    assert [] == student.faults


def test_a_number_with_two_readings_is_mended_in_its_field(
    store: Store, classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """Nothing is sent and nothing is lost; a decimal comma goes in as it is."""
    student = Student(open_tablet(classroom.tablets[0]), classroom.group_ids[0])
    student.says_who("Ada")
    amount = student.page.locator("#amount")
    amount.fill("1,000")
    student.taps_the_panel(0, 0)
    expect(student.page.locator("#told")).to_contain_text("no comma for thousands")
    assert "1,000" == amount.input_value()
    amount.fill("2,5")
    student.taps_the_panel(0, 0)
    student.reads("Trial 1 is in")
    assert [2.5] == [one.amount for one in kept_trials(store, classroom)]
