"""The teacher's page that puts a trial right."""

from __future__ import annotations

from uuid import UUID, uuid4

import pytest
from flask.testing import FlaskClient

from journal.domain.trials import Trial, TrialState
from journal.records.work import open_work
from journal.store import trials
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.trial_entries import entry_of, log


@pytest.fixture
def trial(store: Store, clock: StandingClock, classroom: Classroom) -> Trial:
    """Return a trial of the first group on the blaze."""
    return log(store, clock, classroom.tablets[0], entry_of(classroom, clock, x_mm=12.3456))


def form_of(trial: Trial, **changes: str) -> dict[str, str]:
    """Return the form as the page fills it, with some changes."""
    plain = {
        "student_id": str(trial.student_id),
        "kind": trial.kind.value,
        "state": trial.state.value,
        "at": f"zone:{trial.zone}",
        "x_mm": f"{trial.x_mm:.12g}",
        "y_mm": f"{trial.y_mm:.12g}",
        "amount": "",
        "misfire": "",
        "reason": "Tapped by mistake",
    }
    return plain | changes


def kept(store: Store, classroom: Classroom, trial_id: UUID) -> Trial:
    """Return the trial as it stands now."""
    with open_work(store, classroom.teacher, writing=False) as work:
        return trials.get_trial(work.session, trial_id)


def test_page_shows_what_is_and_afterwards_what_was(
    teacher: FlaskClient, store: Store, classroom: Classroom, trial: Trial
) -> None:
    """The form is filled, the correction stands below with its reason."""
    path = f"/trials/{trial.id}/corrections"
    before = teacher.get(path).text
    assert "Blaze, 8 points, practice" in before
    assert 'value="12.3456"' in before
    assert "Nothing yet" in before

    after = teacher.post(
        path,
        data=form_of(trial, student_id=str(classroom.student_ids[0][1])),
        follow_redirects=True,
    ).text

    assert classroom.student_ids[0][1] == kept(store, classroom, trial.id).student_id
    for words in ("<td>Ada</td>", "<td>Ben</td>", "Tapped by mistake"):
        assert words in after


def test_trial_is_set_aside_with_a_reason(
    teacher: FlaskClient, store: Store, classroom: Classroom, trial: Trial
) -> None:
    """Void keeps what was measured."""
    teacher.post(f"/trials/{trial.id}/corrections", data=form_of(trial, state="void"))

    now = kept(store, classroom, trial.id)
    assert (TrialState.VOID, trial.value) == (now.state, now.value)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"amount": "2", "reason": ""}, "Say why in a few words"),
        ({"amount": "two"}, "is not a number."),
        ({"x_mm": "4000"}, "That place is off the wall."),
        ({"state": "gone"}, "Choose what it was."),
        ({"kind": ""}, "Choose practice or counted."),
        ({}, "Nothing is different yet."),
    ],
)
def test_refused_correction_comes_back_filled(
    teacher: FlaskClient,
    store: Store,
    classroom: Classroom,
    trial: Trial,
    changes: dict[str, str],
    words: str,
) -> None:
    """422 with a sentence; the trial is as it was."""
    form = form_of(trial, **changes)

    answer = teacher.post(f"/trials/{trial.id}/corrections", data=form)

    assert 422 == answer.status_code
    assert words in answer.text
    assert f'value="{form["x_mm"]}"' in answer.text
    assert trial == kept(store, classroom, trial.id)


def test_page_is_the_teachers(tablet: FlaskClient, nobody: FlaskClient, trial: Trial) -> None:
    """A tablet is refused, nobody is led to the door, an unknown trial is not found."""
    path = f"/trials/{trial.id}/corrections"

    assert 403 == tablet.get(path).status_code
    assert 303 == nobody.get(path).status_code
    assert 404 == tablet.get(f"/trials/{uuid4()}/corrections").status_code
