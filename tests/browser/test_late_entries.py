"""A tablet whose clock is off, and a queue that is sent too late: what the page says of both."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from journal.records.work import open_work
from journal.screens.desk.parked_trials import prepare_parked
from journal.services.sessions import end_session
from journal.store.engine import Store
from tests.browser.conftest import OpenTablet
from tests.browser.test_log_trial import Student, kept_trials
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom

pytestmark = pytest.mark.browser


def test_tablet_whose_clock_is_days_off_is_told_once(
    store: Store, clock: StandingClock, classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """The browser's clock is years from the journal's: the trial is of now, and that is said."""
    student = Student(open_tablet(classroom.tablets[0]), classroom.group_ids[0])
    told = student.page.locator("#told")
    for n, name in enumerate(("Ada", "Ben"), start=1):
        student.says_who(name)
        student.taps_the_panel(10, 10)
        student.reads(f"Trial {n} is in")
        if n == 1:
            expect(told).to_have_text("The clock of this tablet is off. We put the time right.")
    expect(told).to_be_hidden()

    for trial in kept_trials(store, classroom):
        assert abs(trial.clock_slow_s) > 86_400
        assert (trial.received_at - trial.logged_at).total_seconds() < 10


@pytest.mark.parametrize("taken_back", [False, True])
def test_entry_that_belongs_nowhere_leaves_the_queue_for_the_teacher(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    open_tablet: OpenTablet,
    *,
    taken_back: bool,
) -> None:
    """Made in the break, sent ten minutes later: the tablet says so and keeps nothing.

    One that was taken back while it waited is not the teacher's to place.
    """
    clock.move(minutes=30)
    with open_work(store, classroom.teacher, clock=clock) as work:
        end_session(work, classroom.session_id)
    clock.move(minutes=30)
    group_id = classroom.group_ids[0]
    page = open_tablet(classroom.tablets[0])
    page.goto(f"/groups/{group_id}/trials/new")
    key = f"journal.entries.{group_id}"
    page.evaluate(
        """([key, body, strike]) => {
          body.logged_at = new Date(Date.now() - 600000).toISOString();
          const entry = { id: crypto.randomUUID(), body, label: "Ada", state: "waiting", strike };
          localStorage.setItem(key, JSON.stringify([entry]));
        }""",
        [
            key,
            {
                "revision_ids": [str(one) for one in classroom.revisions_for(0, 0)],
                "student_id": str(classroom.student_ids[0][0]),
                "kind": "practice",
                "place": "wall",
            },
            taken_back,
        ],
    )
    page.reload()

    told = "That one came late. Your teacher says where it goes."
    if not taken_back:
        expect(page.locator("#told")).to_have_text(told)
    page.wait_for_function("key => localStorage.getItem(key) === '[]'", arg=key)
    assert "[]" == page.evaluate(f"localStorage.getItem('journal.entries.{group_id}')")
    with open_work(store, classroom.teacher, clock=clock, writing=False) as work:
        found = prepare_parked(work, classroom.class_id)
    assert (not taken_back, taken_back) == (bool(found.waiting), bool(found.decided))
