"""A swap test by touch: the tablet says who is next with what, and one tap takes the turn."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from journal.store.engine import Store
from tests.browser.conftest import OpenTablet
from tests.browser.test_log_trial import Student
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.swaps import add_launcher, kept, plan

pytestmark = pytest.mark.browser


def test_a_whole_swap_test_takes_one_tap_a_turn(
    store: Store, clock: StandingClock, classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """Name and launcher are chosen for each turn, without the page being loaded anew."""
    new_id = add_launcher(store, clock, classroom)
    swap_test = plan(store, clock, classroom, new_id, trials_each=4)
    student = Student(open_tablet(classroom.tablets[0]), classroom.group_ids[0])
    names = dict(zip(classroom.student_ids[0], ("Ada", "Ben", "Cleo"), strict=True))
    student.page.evaluate("window.neverLoadedAnew = true")

    for turn in swap_test.turns:
        number = 2 if turn.revision_id == new_id else 1
        expected = f"{names[turn.student_id]} with Launcher {number}"
        expect(student.page.locator("#turn")).to_contain_text(expected)
        name = student.page.locator(f"input[name=student_id][value='{turn.student_id}']")
        expect(name).to_be_checked()
        if turn is swap_test.turns[-1]:
            assert student.page.evaluate("window.neverLoadedAnew")
        student.taps_the_panel(20 * number, -10)
        student.reads(f"Trial {turn.position} is in")

    # All turns are taken: the page is a usual one again.
    expect(student.page.locator("#turn")).to_have_count(0)
    assert list(range(1, 13)) == sorted(kept(store, swap_test).taken)
    assert [] == student.faults


def test_whoever_is_ready_first_may_go_first(
    store: Store, clock: StandingClock, classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """Another name has the launcher of its own next turn chosen as well."""
    new_id = add_launcher(store, clock, classroom)
    swap_test = plan(store, clock, classroom, new_id, trials_each=4)
    student = Student(open_tablet(classroom.tablets[0]), classroom.group_ids[0])

    student.says_who("Ben")
    student.taps_the_panel(0, 0)
    student.reads("Trial 1 is in")

    ben = next(turn for turn in swap_test.turns if turn.student_id == classroom.student_ids[0][1])
    assert {ben.position} == set(kept(store, swap_test).taken)
    expect(student.page.locator("#turn")).to_contain_text("Ada with Launcher 1")
