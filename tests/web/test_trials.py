"""The page that logs trials, as a browser without script meets it."""

from __future__ import annotations

import re
from uuid import UUID, uuid4

import pytest
from flask.testing import FlaskClient

from journal.domain.actors import OPERATOR
from journal.domain.trials import Place, Trial, TrialState
from journal.records.work import open_work
from journal.store import revisions, sessions, trials
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.services.trial_entries import make_bridge_room
from tests.web.conftest import SignIn


def form_of(room: Classroom, **changes: str) -> dict[str, object]:
    """Return what the page's form sends for the first student of the first group."""
    student_id = room.student_ids[0][0]
    launcher, *darts = room.revisions_for(0, 0)
    plain: dict[str, object] = {
        "trial_id": str(uuid4()),
        "student_id": str(student_id),
        "shared": [str(launcher)],
        "kind": "practice",
        "handling-pull": "half",
        "amount": "3",
        "at": "zone:bark",
        **{f"own-{student_id}-dart": str(dart) for dart in darts},
    }
    return plain | changes


def kept_trials(store: Store, room: Classroom) -> tuple[Trial, ...]:
    """Return the trials of the first group."""
    with open_work(store, OPERATOR, writing=False) as work:
        return trials.trials_of_groups(work.session, room.group_ids[:1], [room.session_id])


def path_of(room: Classroom, rest: str) -> str:
    """Return an address of the first group."""
    return f"/groups/{room.group_ids[0]}/trials{rest}"


def test_page_asks_who_and_where(tablet: FlaskClient, classroom: Classroom) -> None:
    """Names, each with the own part, the panel with its zones, the buttons beside it."""
    answer = tablet.get(path_of(classroom, "/new"))

    assert 200 == answer.status_code
    for words in (
        "Who launches?",
        "Where did the dart hit? Tap the place.",
        "Ada’s dart 1",
        "Launcher 1",
        "Blaze, 8 points",
        "Not on the wall",
        "The dart got stuck",
        "Goggles on. Nobody past the line.",
        "Lane open.",
    ):
        assert words in answer.text


def test_page_of_a_measure_has_a_pad_and_no_panel(
    store: Store, clock: StandingClock, sign_in: SignIn
) -> None:
    """A bridge's page asks for grams."""
    room = make_bridge_room(store, clock)

    text = sign_in(room.tablets[0]).get(path_of(room, "/new")).text

    assert "How many grams did it hold?" in text
    assert 'data-key="7"' in text
    assert 'id="place"' not in text


def test_form_logs_a_trial_by_the_name_of_its_place(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """Without a script a button names the zone; what was chosen stays chosen."""
    answer = tablet.post(path_of(classroom, ""), data=form_of(classroom), follow_redirects=True)

    (trial,) = kept_trials(store, classroom)
    assert ("bark", 4.0, None, 3.0) == (trial.zone, trial.value, trial.x_mm, trial.amount)
    assert "half" == trial.handling["pull"]
    assert "Trial 1 is in" in answer.text
    assert "Bark, 4 points, practice" in answer.text
    assert "<option selected>half</option>" in answer.text


@pytest.mark.parametrize(
    ("at", "place", "state"),
    [
        ("wall", Place.WALL, TrialState.MEASURED),
        ("nowhere", Place.NOWHERE, TrialState.MEASURED),
        ("bare", Place.PANEL, TrialState.MEASURED),
        ("misfire:stuck", None, TrialState.MISFIRE),
    ],
)
def test_each_button_is_an_ending(
    tablet: FlaskClient,
    store: Store,
    classroom: Classroom,
    at: str,
    place: Place | None,
    state: TrialState,
) -> None:
    """Wall, nowhere, bare panel and the causes of a misfire are one tap each."""
    tablet.post(path_of(classroom, ""), data=form_of(classroom, at=at))

    (trial,) = kept_trials(store, classroom)
    assert (place, state) == (trial.place, trial.state)


def test_form_sent_twice_is_one_trial(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """A double tap on a slow tablet races with itself and loses nothing."""
    form = form_of(classroom)
    for _ in range(2):
        assert 303 == tablet.post(path_of(classroom, ""), data=form).status_code

    assert 1 == len(kept_trials(store, classroom))


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"student_id": ""}, "Say who did it: tap a name."),
        ({"amount": "-3"}, "An amount cannot be less than 0."),
        ({"amount": "many"}, "“many” is not a number."),
        ({"amount": "1,000"}, "1000 or as 1.000"),
        ({"at": ""}, "Say where it ended"),
        ({"at": "zone:moon"}, "The panel has no such zone."),
        ({"at": "misfire:moon"}, "Choose one of the listed causes"),
        ({"kind": "rehearsal"}, "Choose practice or counted."),
        ({"handling-pull": "thrice"}, "Choose one of: full, half."),
        ({"trial_id": "x"}, "Load it again."),
    ],
)
def test_refused_form_comes_back_filled_with_a_sentence(
    tablet: FlaskClient,
    store: Store,
    classroom: Classroom,
    changes: dict[str, str],
    words: str,
) -> None:
    """422, what was chosen is still there, and nothing was kept."""
    form = form_of(classroom, **{"handling-tilt": "mark 4"} | changes)

    answer = tablet.post(path_of(classroom, ""), data=form)

    assert 422 == answer.status_code
    assert words in answer.text
    assert "<option selected>mark 4</option>" in answer.text
    if "student_id" not in changes:
        student_id = classroom.student_ids[0][0]
        assert re.search(rf'value="{student_id}"[^>]* checked', answer.text)
    assert () == kept_trials(store, classroom)


def test_state_of_things_is_told_on_the_page(
    tablet: FlaskClient, store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """A revision that was set aside meanwhile is named above the form."""
    with open_work(store, OPERATOR, clock=clock) as work:
        revisions.set_aside(work.session, classroom.own_revision_ids[0][0], clock())

    answer = tablet.post(path_of(classroom, ""), data=form_of(classroom))

    assert 422 == answer.status_code
    assert "Ada’s dart 1 was set aside." in answer.text


def test_page_waits_for_session_and_gate_and_says_so(
    store: Store, clock: StandingClock, sign_in: SignIn
) -> None:
    """A waiting tablet knows for what it waits, and asks cheaply whether it still does."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock(), gate_open=False)
    tablet = sign_in(room.tablets[0])
    gate = "Your teacher checks the lane and the goggles first."

    assert gate in tablet.get(path_of(room, "/new")).text
    assert gate in tablet.get(path_of(room, "/waits")).json["wait"]
    assert "Lane closed." in tablet.get(path_of(room, "/new")).text

    with open_work(store, OPERATOR, clock=clock) as work:
        sessions.end_session(work.session, room.session_id, clock())
    assert "has not started a session" in tablet.get(path_of(room, "/new")).text


def test_open_page_waits_for_nothing(tablet: FlaskClient, classroom: Classroom) -> None:
    """The answer of an open gate is empty."""
    assert {"wait": ""} == tablet.get(path_of(classroom, "/waits")).json


def test_broken_bridge_is_built_again_by_one_tap(
    store: Store, clock: StandingClock, sign_in: SignIn
) -> None:
    """After a test the page offers the same way again, or a change."""
    room = make_bridge_room(store, clock)
    tablet = sign_in(room.tablets[0])
    form = form_of(room, at="measure", value="340,5", amount="")
    del form["handling-pull"]

    page = tablet.post(path_of(room, ""), data=form, follow_redirects=True).text

    assert "The bridge broke in the test. Build it again." in page
    assert "340.5 g, practice" in page
    again = tablet.post(path_of(room, "/rebuilt"), follow_redirects=True).text
    assert "How many grams did it hold?" in again


def test_last_trial_is_taken_back_from_the_page(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """The button names the trial; afterwards the page says it is taken back."""
    tablet.post(path_of(classroom, ""), data=form_of(classroom))
    trial_id: UUID = kept_trials(store, classroom)[0].id

    page = tablet.post(path_of(classroom, f"/{trial_id}/strike"), follow_redirects=True).text

    assert TrialState.STRUCK is kept_trials(store, classroom)[0].state
    assert "Trial 1 was taken back" in page
    assert "Trial 1 is in" not in page
    assert "Bark, 4 points, taken back" in page
    assert "Take back trial" not in page


def test_group_mates_part_can_be_chosen_and_a_lost_one_cannot(
    tablet: FlaskClient, classroom: Classroom
) -> None:
    """Each child's list starts with the own part and names the others'."""
    text = tablet.get(path_of(classroom, "/new")).text
    student_id = classroom.student_ids[0][1]
    listed = re.search(rf'name="own-{student_id}-dart".*?</select>', text, re.DOTALL)

    assert listed is not None
    assert ["Ben’s dart 1", "Ada’s dart 1", "Cleo’s dart 1"] == re.findall(
        r">([^<>]+)</option>", listed.group()
    )


def test_stuck_group_sees_that_a_question_waits(tablet: FlaskClient, classroom: Classroom) -> None:
    """After "We are stuck" the head leads to the question instead."""
    assert "We are stuck" in tablet.get(path_of(classroom, "/new")).text
    tablet.post(f"/groups/{classroom.group_ids[0]}/ladder")

    page = tablet.get(path_of(classroom, "/new")).text

    assert "A question waits for you." in page
    assert "We are stuck" not in page


def test_stalled_group_is_offered_a_question(tablet: FlaskClient, classroom: Classroom) -> None:
    """A dozen trials without a hit better than the first: the head offers help."""
    for _ in range(14):
        tablet.post(path_of(classroom, ""), data=form_of(classroom, at="bare"))

    assert "A question may help you now." in tablet.get(path_of(classroom, "/new")).text


def test_names_are_escaped(store: Store, clock: StandingClock, sign_in: SignIn) -> None:
    """A nickname that looks like markup stays text, in the page and in the drawing."""
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(
            work.session, clock(), nicknames=(("<script>x</script>", "{{7*7}}", "Bo"),)
        )
    tablet = sign_in(room.tablets[0])
    body = {
        "revision_ids": [str(one) for one in room.revisions_for(0, 0)],
        "student_id": str(room.student_ids[0][0]),
        "kind": "practice",
        "logged_at": clock().isoformat(),
        "x_mm": 0,
        "y_mm": 0,
    }
    assert 201 == tablet.put(f"/api/trials/{uuid4()}", json=body).status_code

    text = tablet.get(path_of(room, "/new")).text

    assert "<script>x" not in text
    assert "{{7*7}}" in text
