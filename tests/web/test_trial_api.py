"""The trial API: one id, one trial; every wrong body gets a sentence by field, never a fault."""

from __future__ import annotations

import json
import threading
from typing import Any
from uuid import uuid4

import pytest
from flask import Flask
from flask.testing import FlaskClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from journal.domain.actors import OPERATOR
from journal.domain.sessions import SessionEntry
from journal.records.work import open_work
from journal.store import classes, sessions, trials
from journal.store.engine import Store
from tests.conftest import CountQueries, StandingClock
from tests.factories.classrooms import Classroom
from tests.web.conftest import SignIn


def body_of(room: Classroom, clock: StandingClock, **changes: Any) -> dict[str, Any]:
    """Return a body that is taken."""
    plain = {
        "revision_ids": [str(one) for one in room.revisions_for(0, 0)],
        "student_id": str(room.student_ids[0][0]),
        "kind": "practice",
        "logged_at": clock().isoformat(),
        "x_mm": 10.5,
        "y_mm": -20,
    }
    return {key: value for key, value in (plain | changes).items() if value is not ...}


def test_new_trial_is_201_and_its_replay_200_with_the_same_answer(
    tablet: FlaskClient, classroom: Classroom, clock: StandingClock
) -> None:
    """A tablet that did not hear the first answer gets it again."""
    path, body = f"/api/trials/{uuid4()}", body_of(classroom, clock)

    first, again = tablet.put(path, json=body), tablet.put(path, json=body)

    assert (201, 200) == (first.status_code, again.status_code)
    assert first.json == again.json
    assert ("blaze", 8.0, "panel") == tuple(first.json[key] for key in ("zone", "value", "place"))


def test_usual_trial_takes_five_statements(
    tablet: FlaskClient, classroom: Classroom, clock: StandingClock, count_queries: CountQueries
) -> None:
    """Who asks, what the trial stands on, the trial, its revisions, the class's version."""
    tablet.put(f"/api/trials/{uuid4()}", json=body_of(classroom, clock))

    with count_queries() as statements:
        answer = tablet.put(f"/api/trials/{uuid4()}", json=body_of(classroom, clock))

    assert answer.status_code == 201
    assert len(statements) <= 5, "\n".join(statements)


def test_same_id_with_other_content_is_409_with_both(
    tablet: FlaskClient, classroom: Classroom, clock: StandingClock
) -> None:
    """Both contents are shown, as problem details."""
    path, body = f"/api/trials/{uuid4()}", body_of(classroom, clock)
    tablet.put(path, json=body)

    answer = tablet.put(path, json=body | {"x_mm": 250})

    assert 409 == answer.status_code
    assert "application/problem+json" == answer.mimetype
    assert (10.5, 250.0) == (answer.json["kept"]["x_mm"], answer.json["sent"]["x_mm"])


def test_numbers_as_text_are_read_as_a_form_reads_them(
    tablet: FlaskClient, classroom: Classroom, clock: StandingClock
) -> None:
    """A decimal comma and a true minus sign; a replay as numbers is the same trial."""
    path, body = f"/api/trials/{uuid4()}", body_of(classroom, clock, amount=2.5)

    told = tablet.put(path, json=body | {"x_mm": "10,5", "y_mm": "−20", "amount": "2,5"})
    again = tablet.put(path, json=body)

    assert (201, 200) == (told.status_code, again.status_code)
    assert (10.5, -20.0, 2.5) == tuple(told.json[key] for key in ("x_mm", "y_mm", "amount"))


def test_thirty_puts_of_one_id_keep_one_trial(
    app: Flask, sign_in: SignIn, store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """One answer of thirty is 201, the others are 200."""
    path, body = f"/api/trials/{uuid4()}", body_of(classroom, clock)
    browsers = [sign_in(classroom.tablets[0]) for _ in range(30)]
    start, codes = threading.Barrier(30), []

    def put(browser: FlaskClient) -> None:
        start.wait()
        codes.append(browser.put(path, json=body).status_code)

    threads = [threading.Thread(target=put, args=(browser,)) for browser in browsers]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert [200] * 29 + [201] == sorted(codes)
    with open_work(store, OPERATOR, writing=False) as work:
        kept = trials.trials_of_groups(work.session, classroom.group_ids, [classroom.session_id])
    assert 1 == len(kept)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"student_id": ...}, "student_id"),
        ({"student_id": "Ada"}, "student_id"),
        ({"kind": "rehearsal"}, "kind"),
        ({"revision_ids": []}, "revision_ids"),
        ({"revision_ids": "launcher"}, "revision_ids"),
        ({"points": 8}, "points"),
        ({"x_mm": "left"}, "x_mm"),
        ({"x_mm": "1,000"}, "x_mm"),
        ({"x_mm": "1_0"}, "x_mm"),
        ({"x_mm": 10**400}, "x_mm"),
        ({"x_mm": 2e6}, "x_mm"),
        ({"amount": -1}, "amount"),
        ({"x_mm": 900}, "place"),
        ({"logged_at": "2030-03-04T09:00:00"}, "logged_at"),
        ({"logged_at": "0001-01-01T00:00:00+14:00"}, "logged_at"),
        ({"logged_at": "9999-12-31T23:59:59-14:00"}, "logged_at"),
        ({"logged_at": "now"}, "logged_at"),
        ({"sent_at": "2030-03-04T09:00:00"}, "sent_at"),
        ({"sent_at": "9999-12-31T23:59:59-14:00"}, "sent_at"),
        ({"misfire": "a" * 1_000_000}, "misfire"),
        ({"misfire": "stuck\x00", "x_mm": None, "y_mm": None}, "misfire"),
        ({"misfire": "\ud800", "x_mm": None, "y_mm": None}, "misfire"),
        ({"zone": "\x00"}, "zone"),
        ({"handling": {"pull": "\udfff"}}, "handling.pull.value"),
        ({"handling": {"pull": "thrice"}}, "handling.pull"),
        ({"handling": {str(n): "full" for n in range(21)}}, "handling"),
    ],
)
def test_wrong_body_is_422_by_field(
    tablet: FlaskClient,
    classroom: Classroom,
    clock: StandingClock,
    changes: dict[str, Any],
    field: str,
) -> None:
    """What is wrong stands under the name of its field."""
    text = json.dumps(body_of(classroom, clock, **changes))

    answer = tablet.put(f"/api/trials/{uuid4()}", data=text, content_type="application/json")

    assert 422 == answer.status_code, answer.json
    assert field in answer.json["errors"]


@pytest.mark.parametrize("number", ["NaN", "Infinity", "-Infinity", "1e309", "-1e309"])
@pytest.mark.parametrize("field", ["x_mm", "value", "amount"])
def test_number_that_is_none_is_422(
    tablet: FlaskClient, classroom: Classroom, clock: StandingClock, number: str, field: str
) -> None:
    """JSON as Python reads it lets these through; the journal does not."""
    text = json.dumps(body_of(classroom, clock, **{field: 7.125})).replace("7.125", number)

    answer = tablet.put(f"/api/trials/{uuid4()}", data=text, content_type="application/json")

    assert 422 == answer.status_code
    assert field in answer.json["errors"]


@pytest.mark.parametrize(
    "text", ["", "{", "[]", "null", '"x"', "[" * 100_000, '{"x_mm": ' + "9" * 5000 + "}", b"\xff{}"]
)
def test_body_that_is_no_object_is_refused(tablet: FlaskClient, text: str | bytes) -> None:
    """Broken, nested and endless bodies are the sender's to mend."""
    answer = tablet.put(f"/api/trials/{uuid4()}", data=text, content_type="application/json")

    assert answer.status_code in {400, 422}
    assert "application/problem+json" == answer.mimetype


_ANYTHING = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=6,
)


@settings(
    max_examples=150,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(
    field=st.sampled_from(
        ("revision_ids", "student_id", "scribe_id", "kind", "logged_at", "sent_at",
         "handling", "place", "x_mm", "y_mm", "zone", "value", "amount", "misfire")
    ),
    content=_ANYTHING,
)  # fmt: skip
def test_no_content_of_a_field_is_a_fault(
    tablet: FlaskClient, classroom: Classroom, clock: StandingClock, field: str, content: object
) -> None:
    """Whatever a field holds, the answer is an answer."""
    text = json.dumps(body_of(classroom, clock, **{field: content}))

    answer = tablet.put(f"/api/trials/{uuid4()}", data=text, content_type="application/json")

    assert answer.status_code in {201, 202, 422}


def test_shut_gate_is_409_and_says_why(
    tablet: FlaskClient, store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """A new session waits for the teacher's checklist."""
    with open_work(store, OPERATOR, clock=clock) as work:
        sessions.end_session(work.session, classroom.session_id, clock())
        school_class = classes.get_class(work.session, classroom.class_id)
        entry = SessionEntry(challenge_id=classroom.challenge_id, distance_mm=2500, lanes=1)
        sessions.add_session(work.session, school_class, entry, panel="", started_at=clock())

    answer = tablet.put(f"/api/trials/{uuid4()}", json=body_of(classroom, clock))

    assert (409, "/problems/gate-shut") == (answer.status_code, answer.json["type"])
    assert "Your teacher checks the lane" in answer.json["detail"]


def test_nobody_and_another_group_get_nothing(
    nobody: FlaskClient, sign_in: SignIn, classroom: Classroom, clock: StandingClock
) -> None:
    """Nobody comes in first; another group's tablet has none of these students."""
    path, body = f"/api/trials/{uuid4()}", body_of(classroom, clock)

    assert 401 == nobody.put(path, json=body).status_code
    assert 422 == sign_in(classroom.tablets[1]).put(path, json=body).status_code


def test_trial_is_not_taken_without_the_token_of_the_page(
    app: Flask, tablet: FlaskClient, classroom: Classroom, clock: StandingClock
) -> None:
    """Another site cannot log a trial with the tablet's cookie."""
    app.config["WTF_CSRF_ENABLED"] = True

    answer = tablet.put(f"/api/trials/{uuid4()}", json=body_of(classroom, clock))

    assert 400 == answer.status_code


def test_last_practice_entry_is_struck_and_the_one_before_is_not(
    tablet: FlaskClient, sign_in: SignIn, classroom: Classroom, clock: StandingClock
) -> None:
    """Only the newest one is taken back, and only by its own group."""
    ids = [uuid4(), uuid4()]
    for trial_id in ids:
        tablet.put(f"/api/trials/{trial_id}", json=body_of(classroom, clock))

    assert 409 == tablet.post(f"/api/trials/{ids[0]}/strike").status_code
    other = sign_in(classroom.tablets[1])
    assert 404 == other.post(f"/api/trials/{ids[1]}/strike").status_code
    assert "struck" == tablet.post(f"/api/trials/{ids[1]}/strike").json["state"]
    assert 409 == tablet.post(f"/api/trials/{ids[0]}/strike").status_code
    assert 404 == tablet.post(f"/api/trials/{uuid4()}/strike").status_code
