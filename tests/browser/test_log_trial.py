"""Trials logged by touch on a tablet: two taps each, and nothing is lost without a network."""

from __future__ import annotations

from uuid import UUID

import pytest
from playwright.sync_api import Page, expect

from journal.domain.actors import OPERATOR
from journal.domain.sessions import LAUNCHING_CHECKS, Gate
from journal.domain.trials import Place, Trial, TrialState
from journal.records.work import open_work
from journal.store import sessions, trials
from journal.store.engine import Store
from tests.browser.conftest import OpenTablet
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.services.trial_entries import make_bridge_room

pytestmark = pytest.mark.browser

#: A second tap within this time is taken for a finger that bounced.
BOUNCE_MS = 750


class Student:
    """A group at its tablet."""

    def __init__(self, page: Page, group_id: UUID) -> None:
        self.page = page
        self.faults: list[str] = []
        page.on("pageerror", lambda error: self.faults.append(str(error)))
        page.goto(f"/groups/{group_id}/trials/new")

    def says_who(self, name: str) -> None:
        """Tap a name."""
        self.page.locator(".tester .tile", has_text=name).tap()

    def taps_the_panel(self, x_mm: float, y_mm: float) -> None:
        """Tap the place that lies so far to the right of and above the aim point."""
        place = self.page.locator("#place")
        box = place.bounding_box()
        assert box is not None
        told = place.evaluate("element => ({...element.dataset})")
        shown = box["width"] / float(told["width"])
        scale = float(told["scale"])
        self.page.touchscreen.tap(
            box["x"] + (float(told["aimX"]) + x_mm * scale) * shown,
            box["y"] + (float(told["aimY"]) - y_mm * scale) * shown,
        )

    def reads(self, words: str) -> None:
        """Wait until the page says that the newest trial is in."""
        expect(self.page.locator("#newest")).to_contain_text(words)
        self.page.wait_for_timeout(BOUNCE_MS)


def kept_trials(store: Store, room: Classroom) -> tuple[Trial, ...]:
    """Return what the journal has kept of the first group, in order."""
    with open_work(store, OPERATOR, writing=False) as work:
        return trials.trials_of_groups(work.session, room.group_ids[:1], [room.session_id])


def test_ten_trials_take_two_taps_each(
    store: Store, classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """A name and a place: ten times, each kept where it was tapped."""
    student = Student(open_tablet(classroom.tablets[0]), classroom.group_ids[0])
    names = ("Ada", "Ben", "Cleo")
    places = [(-250 + 50 * n, 200 - 45 * n) for n in range(10)]

    for n, (x_mm, y_mm) in enumerate(places):
        student.says_who(names[n % 3])
        student.taps_the_panel(x_mm, y_mm)
        student.reads(f"Trial {n + 1} is in")

    kept = kept_trials(store, classroom)
    assert [classroom.student_ids[0][n % 3] for n in range(10)] == [one.student_id for one in kept]
    for trial, (x_mm, y_mm) in zip(kept, places, strict=True):
        # A tap is a whole pixel, which is about 2 mm here.
        assert (trial.x_mm, trial.y_mm) == (
            pytest.approx(x_mm, abs=3),
            pytest.approx(y_mm, abs=3),
        )
    assert [] == student.faults
    # Everything stands on one screen.
    assert 768 >= student.page.evaluate("document.documentElement.scrollHeight")


def test_same_child_again_needs_one_tap_and_what_is_chosen_stays(
    store: Store, classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """Name, handling and amount hold until they are changed, also after a reload."""
    student = Student(open_tablet(classroom.tablets[0]), classroom.group_ids[0])
    student.says_who("Ben")
    student.page.locator("[data-handling=pull]").select_option("half")
    student.page.get_by_label("One more").tap()
    student.page.get_by_label("One more").tap()
    for n in (1, 2):
        student.taps_the_panel(20, 20)
        student.reads(f"Trial {n} is in")
    student.page.reload()
    student.says_who("Cleo")
    student.taps_the_panel(20, 20)
    student.reads("Trial 3 is in")

    assert [("half", 2.0)] * 3 == [
        (one.handling["pull"], one.amount) for one in kept_trials(store, classroom)
    ]


def test_place_before_name_is_kept_until_the_name_comes(
    store: Store, classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """The other order works as well."""
    student = Student(open_tablet(classroom.tablets[0]), classroom.group_ids[0])
    student.taps_the_panel(0, 0)
    expect(student.page.locator("#told")).to_have_text("Who launches? Tap a name.")
    student.says_who("Ada")
    student.reads("Blaze, 8 points, practice")

    assert 1 == len(kept_trials(store, classroom))


def test_misfire_and_flying_past_are_buttons(
    store: Store, classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """A misfire asks for its cause, flying past asks for nothing."""
    student = Student(open_tablet(classroom.tablets[0]), classroom.group_ids[0])
    student.says_who("Ada")
    student.page.locator(".out", has_text="Not on the wall").tap()
    student.reads("Not on the wall, 0 points")
    student.page.locator(".misfire summary").tap()
    student.page.get_by_role("button", name="The dart got stuck").tap()
    student.reads("Misfire: The dart got stuck")

    past, misfire = kept_trials(store, classroom)
    assert (Place.NOWHERE, TrialState.MISFIRE) == (past.place, misfire.state)


def test_last_trial_is_taken_back_by_one_tap(
    store: Store, classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """The button goes with what it took back."""
    student = Student(open_tablet(classroom.tablets[0]), classroom.group_ids[0])
    student.says_who("Ada")
    student.taps_the_panel(0, 0)
    student.reads("Trial 1 is in")
    student.page.get_by_role("button", name="Take back trial 1").tap()
    student.reads("taken back")

    assert [TrialState.STRUCK] == [one.state for one in kept_trials(store, classroom)]
    expect(student.page.get_by_role("button", name="Take back trial 1")).to_have_count(0)


def test_entries_without_a_network_wait_on_the_tablet_and_go_in_later(
    store: Store, classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """They are counted in the head, outlive a reload of the page, and go in by themselves."""
    student = Student(open_tablet(classroom.tablets[0]), classroom.group_ids[0])
    # Without what the reload itself needs, only sending is cut off.
    student.page.context.route("**/api/**", lambda route: route.abort())
    student.says_who("Ada")
    head = student.page.locator("#waiting")
    student.taps_the_panel(30, 0)
    expect(head).to_contain_text("1 entry waits for the network.")
    expect(head).to_contain_text("It is kept on this tablet.")
    for _ in range(2):
        student.page.wait_for_timeout(BOUNCE_MS)
        student.taps_the_panel(30, 0)
    expect(head).to_contain_text("3 entries wait for the network.")
    expect(head).to_contain_text("They are kept on this tablet.")
    student.page.reload()
    expect(head).to_contain_text("3 entries wait for the network.")
    assert () == kept_trials(store, classroom)

    student.page.context.unroute("**/api/**")
    student.page.evaluate("dispatchEvent(new Event('online'))")
    student.reads("Trial 3 is in")

    expect(head).to_be_hidden()
    assert 3 == len({one.id for one in kept_trials(store, classroom)})


def test_refused_entry_is_shown_until_it_is_sent_again_or_dropped(
    store: Store, clock: StandingClock, classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """A session that ended meanwhile refuses; a tap drops the entry, nothing else does."""
    student = Student(open_tablet(classroom.tablets[0]), classroom.group_ids[0])
    student.says_who("Ada")
    with open_work(store, OPERATOR, clock=clock) as work:
        sessions.end_session(work.session, classroom.session_id, clock())
    # The clock stands still: without this, a tap that takes a moment to arrive lies before the
    # end and is taken.
    clock.move(minutes=1)
    student.taps_the_panel(0, 0)
    refused = student.page.locator("#refused")
    expect(refused).to_contain_text("Ada: not in yet.")
    expect(refused).to_contain_text("Your teacher has not started a session yet.")
    student.page.get_by_role("button", name="Send again").tap()
    expect(refused).to_contain_text("Your teacher has not started a session yet.")
    student.page.get_by_role("button", name="Drop it").tap()
    expect(refused).to_be_hidden()

    assert () == kept_trials(store, classroom)


def test_counted_attempt_too_many_goes_in_as_practice(
    store: Store, classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """The refused entry is mended by the switch and sent again, not tapped anew."""
    student = Student(open_tablet(classroom.tablets[0]), classroom.group_ids[0])
    student.says_who("Ada")
    student.page.locator(".kinds .tile", has_text="Counted").tap()
    for n in range(3):
        student.taps_the_panel(0, 0)
        student.reads(f"Trial {n + 1} is in")
    student.taps_the_panel(40, 0)
    expect(student.page.locator("#refused")).to_contain_text("All 3 counted attempts are done.")
    student.page.locator(".kinds .tile", has_text="Practice").tap()
    student.page.get_by_role("button", name="Send again").tap()
    student.reads("Trial 4 is in")

    kinds = [one.kind.value for one in kept_trials(store, classroom)]
    assert ["counted", "counted", "counted", "practice"] == kinds


def test_keyboard_moves_a_ring_and_enter_logs(
    store: Store, classroom: Classroom, open_tablet: OpenTablet
) -> None:
    """Arrows go 20 mm, with Shift 2 mm."""
    student = Student(open_tablet(classroom.tablets[0]), classroom.group_ids[0])
    student.says_who("Cleo")
    student.page.locator("#place").focus()
    for key in ("ArrowRight", "ArrowRight", "ArrowUp", "Shift+ArrowUp", "Enter"):
        student.page.keyboard.press(key)
    student.reads("Trial 1 is in")

    (trial,) = kept_trials(store, classroom)
    assert (20.0, 22.0) == (trial.x_mm, trial.y_mm)


def test_waiting_page_opens_by_itself(
    store: Store, clock: StandingClock, open_tablet: OpenTablet
) -> None:
    """When the teacher has gone through the checklist, the panel is there."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), gate_open=False)
    student = Student(open_tablet(room.tablets[0]), room.group_ids[0])
    expect(student.page.locator(".hold")).to_contain_text("Your teacher checks the lane")

    with open_work(store, OPERATOR, clock=clock) as work:
        gate = Gate(opened_at=clock(), teacher_id=room.teacher_id, checks=LAUNCHING_CHECKS)
        sessions.add_gate(work.session, room.school_id, room.session_id, gate)

    expect(student.page.locator("#place")).to_be_visible()


def test_load_is_typed_on_the_pad(
    store: Store, clock: StandingClock, open_tablet: OpenTablet
) -> None:
    """Figures, one ink button; then the bridge is broken until it is built again."""
    room = make_bridge_room(store, clock)
    student = Student(open_tablet(room.tablets[0]), room.group_ids[0])
    student.says_who("Ada")
    for key in ("3", "4", "9", "back", "0"):
        student.page.locator(f".keys [data-key='{key}']").tap()
    student.page.get_by_role("button", name="Log it").tap()
    expect(student.page.locator(".hold")).to_contain_text("The bridge broke in the test.")
    student.page.get_by_role("button", name="We built it again the same way").tap()
    expect(student.page.locator(".keys")).to_be_visible()

    assert [340.0] == [one.value for one in kept_trials(store, room)]
    assert [] == student.faults
