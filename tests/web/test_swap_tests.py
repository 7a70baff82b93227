"""The pages of a swap test in a browser: the choices, the plan, whose turn it is, the end."""

from __future__ import annotations

import re
from html import unescape
from uuid import UUID

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from journal.domain.swap_tests import SwapKind
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.swaps import add_launcher, kept, log_all, log_turn, plan


def _base(room: Classroom) -> str:
    return f"/groups/{room.group_ids[0]}/swap-tests"


def _send(browser: FlaskClient, room: Classroom, new_id: UUID, **changes: object) -> TestResponse:
    form = {
        "kind": "revisions",
        "old": str(room.shared_revision_ids[0]),
        "new": str(new_id),
        "students": [str(one) for one in room.student_ids[0]],
        "trials_each": "4",
        **changes,
    }
    return browser.post(_base(room), data=form)


def test_the_choices_offer_devices_names_and_minutes(
    tablet: FlaskClient, store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Both launchers, three names, three lengths with the time they take."""
    add_launcher(store, clock, classroom)
    page = tablet.get(f"{_base(classroom)}/new").text
    for words in ("Launcher 1", "Launcher 2", "Ada", "Cleo", "4 each", "about 9 min",
                  "Four turns each find only a big difference."):  # fmt: skip
        assert words in page
    assert classroom.challenge.caution in page


def test_an_exchange_names_each_dart(tablet: FlaskClient, classroom: Classroom) -> None:
    """Who exchanges stands with the own dart."""
    page = tablet.get(f"{_base(classroom)}/new?kind=own_parts").text
    assert "Who exchanges a dart?" in page
    assert "Ada’s dart 1" in page


def test_without_a_second_device_the_page_says_what_is_needed(
    tablet: FlaskClient, classroom: Classroom
) -> None:
    """No form that cannot be sent."""
    page = tablet.get(f"{_base(classroom)}/new").text
    assert "You need two revisions of one part" in page
    assert "Make the plan" not in page


def test_a_plan_leads_to_the_first_turn(
    tablet: FlaskClient, store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Sent once, shown as a table with the first turn marked."""
    new_id = add_launcher(store, clock, classroom)
    answer = _send(tablet, classroom, new_id)
    assert 303 == answer.status_code
    page = tablet.get(answer.location).text
    assert "Ada with Launcher 1" in page
    assert "0 of 12 done" in page
    assert 1 == page.count('aria-current="step"')


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"students": []}, "Choose at least one name."),
        ({"trials_each": "7"}, "Choose 4, 8 or 12 trials for each of you."),
        ({"new": "nonsense"}, "Choose two devices of one part."),
    ],
)
def test_what_is_to_be_mended_stands_beside_its_field(
    tablet: FlaskClient,
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    changes: dict[str, object],
    sentence: str,
) -> None:
    """The choices come back filled in."""
    answer = _send(tablet, classroom, add_launcher(store, clock, classroom), **changes)
    assert 422 == answer.status_code
    assert sentence in answer.text


def test_a_second_plan_leads_to_the_open_one(
    tablet: FlaskClient, store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """One at a time."""
    new_id = add_launcher(store, clock, classroom)
    _send(tablet, classroom, new_id)
    answer = _send(tablet, classroom, new_id)
    assert 422 == answer.status_code
    assert "Go on with it" in answer.text


def test_the_page_for_trials_shows_whose_turn_it_is(
    tablet: FlaskClient, store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The name is chosen, and the launcher under each name; one tap logs the turn."""
    new_id = add_launcher(store, clock, classroom)
    swap_test = plan(store, clock, classroom, new_id, trials_each=4)
    address = f"/groups/{classroom.group_ids[0]}/trials/new"
    page = tablet.get(address).text
    assert '<b class="now">Ada with Launcher 1</b>' in page
    first, second = classroom.student_ids[0][:2]
    assert f'value="{first}" data-name="Ada" checked' in page
    chosen = re.findall(r'<select form="log" name="own-(\S+)-launcher".*?value="(\S+)" selected',
                        page, re.DOTALL)  # fmt: skip
    assert (str(first), str(classroom.shared_revision_ids[0])) == chosen[0]
    assert (str(second), str(new_id)) == chosen[1]

    field = f"own-{first}"
    form = {
        "trial_id": re.findall(r'name="trial_id" value="(\S+)"', page)[0],
        "student_id": str(first),
        "shared": re.findall(r'name="shared" value="(\S+)"', page),
        f"{field}-launcher": str(classroom.shared_revision_ids[0]),
        f"{field}-dart": str(classroom.own_revision_ids[0][0]),
        "at": "zone:bark",
    }
    tablet.post(f"/groups/{classroom.group_ids[0]}/trials", data=form)

    assert {1} == set(kept(store, swap_test).taken)
    page = tablet.get(address).text
    assert "Ada with Launcher 2" in page
    assert "1 of 12 done" in page


def test_in_an_exchange_the_lent_dart_is_chosen_when_it_is_its_turn(
    tablet: FlaskClient, store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The second child begins with the dart of the third."""
    darts = classroom.own_revision_ids[0]
    plan(store, clock, classroom, darts[0], kind=SwapKind.OWN_PARTS, trials_each=4)
    page = tablet.get(f"/groups/{classroom.group_ids[0]}/trials/new").text
    chosen = re.findall(r'<select form="log" name="own-(\S+)-dart".*?value="(\S+)" selected',
                        page, re.DOTALL)  # fmt: skip
    second = classroom.student_ids[0][1]
    assert (str(second), str(darts[2])) == chosen[1]
    assert "Ada with Ada’s dart 1" in page


def test_the_end_shows_what_it_told(
    tablet: FlaskClient,
    teacher: FlaskClient,
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
) -> None:
    """Picture and words for the group; the journal and the teacher's page lead there."""
    new_id = add_launcher(store, clock, classroom)
    swap_test = plan(store, clock, classroom, new_id, trials_each=4)
    log_all(
        store, clock, classroom, swap_test,
        lambda turn: "blaze" if turn.revision_id == new_id else "trunk",
    )  # fmt: skip
    address = f"{_base(classroom)}/{swap_test.id}"
    page = tablet.get(address).text
    assert "In the swap test Launcher 2 did better in 6 of 6 pairs." in page
    assert 'id="swap"' in page
    assert "Plan more pairs" not in page
    assert "Next:" not in tablet.get(f"/groups/{classroom.group_ids[0]}/trials/new").text
    for door, path in ((tablet, "journal"), (teacher, "findings")):
        assert address in door.get(f"/groups/{classroom.group_ids[0]}/{path}").text


def test_a_running_test_says_when_it_is_judged_next(
    tablet: FlaskClient, store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Of twelve planned pairs the first look is at eight; then its words stand on the page."""
    new_id = add_launcher(store, clock, classroom)
    swap_test = plan(store, clock, classroom, new_id, trials_each=8)
    address = f"{_base(classroom)}/{swap_test.id}"
    assert "The next look is after 8 more pairs." in tablet.get(address).text
    for turn in swap_test.turns[:16]:
        log_turn(store, clock, classroom, turn, "blaze" if turn.revision_id == new_id else "bark")
    page = tablet.get(address).text
    assert "Launcher 2 did better in 8 of 8 pairs." in page
    assert "This is clear, so you may end the test now." in page


def test_pairs_that_tell_nothing_lead_to_more_of_the_same_two(
    tablet: FlaskClient, store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """While turns are left nothing is offered; then the form opens with both chosen."""
    new_id = add_launcher(store, clock, classroom)
    swap_test = plan(store, clock, classroom, new_id, trials_each=4)
    address = f"{_base(classroom)}/{swap_test.id}"
    assert "Plan more pairs" not in tablet.get(address).text
    log_all(store, clock, classroom, swap_test, lambda _: "bark")
    page = tablet.get(address).text
    assert "Plan more pairs" in page
    way = f"{_base(classroom)}/new?old={swap_test.old_revision_id}&new={new_id}"
    assert way in unescape(page)
    assert tablet.get(way).status_code == 200


def test_an_open_one_can_be_ended(
    tablet: FlaskClient, store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Ended by a tap; its page says that it is too early."""
    swap_test = plan(store, clock, classroom, add_launcher(store, clock, classroom))
    answer = tablet.post(f"{_base(classroom)}/{swap_test.id}/end")
    assert 303 == answer.status_code
    page = tablet.get(answer.location).text
    assert "There are no whole pairs yet" in page
    assert "Plan more pairs" in page


def test_another_group_finds_nothing(
    tablet: FlaskClient, store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Neither by its own address nor under another group's."""
    swap_test = plan(store, clock, classroom, add_launcher(store, clock, classroom))
    other = f"/groups/{classroom.group_ids[1]}/swap-tests"
    assert 404 == tablet.get(f"{other}/{swap_test.id}").status_code
    assert 404 == tablet.get(f"{other}/new").status_code
    assert 404 == tablet.post(f"{other}/{swap_test.id}/end").status_code
