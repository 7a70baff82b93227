"""Every route is guarded: nobody gets in, and nobody sees another one's class or group."""

from collections.abc import Iterator
from http import HTTPStatus
from uuid import uuid4

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.routing import Rule
from werkzeug.test import TestResponse

from journal.domain.actors import Actor, Role
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories import rows
from tests.factories.classrooms import NICKNAMES, Classroom
from tests.factories.people import TeacherFactory
from tests.web.conftest import SignIn, app, nobody, sign_in
from tests.web.role_table import read_rows

__all__ = ["app", "nobody", "sign_in"]

#: The only endpoints that answer whoever has not signed in, each with its reason.
OPEN_TO_NOBODY = {
    "static": "styles, fonts and drawings",
    "health.healthz": "a machine asks whether the journal is ready",
    "errors.problem": "what a kind of problem is",
    "door.show_door": "asks for the lesson word",
    "door.bring_word": "takes the lesson word",
    "sign_ins.show_sign_in": "asks a teacher for name and password",
    "sign_ins.sign_in": "takes name and password",
}
#: What a guarded route may answer to nobody: the door, or that there is nothing to see.
CLOSED = {HTTPStatus.UNAUTHORIZED, HTTPStatus.FORBIDDEN, HTTPStatus.NOT_FOUND}
METHODS = ("GET", "POST", "PUT", "PATCH", "DELETE")


def _addresses(app: Flask, classroom: Classroom) -> Iterator[tuple[Rule, str, str]]:
    """Give each rule and method with an address that leads to something real where it can."""
    real = {
        "class_id": classroom.class_id,
        "group_id": classroom.group_ids[0],
        "session_id": classroom.session_id,
        "challenge_id": classroom.challenge_id,
        "student_id": classroom.student_ids[0][0],
        "revision_id": classroom.shared_revision_ids[0],
        "teacher_id": classroom.teacher_id,
    }
    with app.test_request_context():
        adapter = app.url_map.bind("localhost")
        for rule in app.url_map.iter_rules():
            values = {name: real.get(name, uuid4()) for name in rule.arguments}
            address = adapter.build(rule.endpoint, _fit(rule, values))
            for method in METHODS:
                if method in (rule.methods or ()):
                    yield rule, method, address


def _fit(rule: Rule, values: dict[str, object]) -> dict[str, object]:
    """Give words and numbers where a route asks for these instead of an id."""
    kinds = {name: type(converter).__name__ for name, converter in rule._converters.items()}
    fitting = {"IntegerConverter": 1, "UnicodeConverter": "ask", "PathConverter": "journal.css"}
    return {name: fitting.get(kinds[name], value) for name, value in values.items()}


def _only_leads_on(answer: TestResponse) -> bool:
    """Tell whether the answer shows nothing but the way to the door, or to a page further in."""
    moved = answer.status_code in {HTTPStatus.FOUND, HTTPStatus.SEE_OTHER}
    return moved and (answer.location == "/" or answer.location.startswith(f"{_path(answer)}/"))


def _path(answer: TestResponse) -> str:
    return answer.request.path.rstrip("/")


def _only_speaks_of_shape(answer: TestResponse) -> bool:
    """Tell whether an entry was refused for its shape, before anything was looked up."""
    known = any(name in answer.text for names in NICKNAMES for name in names)
    return answer.status_code == HTTPStatus.UNPROCESSABLE_ENTITY and not known


def test_nobody_gets_in_anywhere(app: Flask, nobody: FlaskClient, classroom: Classroom) -> None:
    """Whoever has not signed in is led to the door or told that nothing is there."""
    let_in = []
    child = str(classroom.student_ids[0][0])
    for rule, method, address in _addresses(app, classroom):
        if rule.endpoint in OPEN_TO_NOBODY:
            continue
        form = (
            None if method == "GET" else {"student_id": child, "students": child, "name": "Robin"}
        )
        answer = nobody.open(address, method=method, data=form, buffered=True)
        if (
            answer.status_code not in CLOSED
            and not _only_leads_on(answer)
            and not _only_speaks_of_shape(answer)
        ):
            let_in.append(f"{method} {rule.rule} {answer.status_code}")
    assert [] == let_in


def test_each_route_and_method_has_its_row(app: Flask) -> None:
    """A new route says whom it lets in, and no row stays after its route is gone."""
    there = {
        (method, rule.endpoint)
        for rule in app.url_map.iter_rules()
        for method in (rule.methods or set()) - {"HEAD", "OPTIONS"}
    }
    assert there == set(read_rows())


def test_the_open_list_names_only_what_there_is(app: Flask) -> None:
    """No endpoint stays on the list after it is gone."""
    assert set() == set(OPEN_TO_NOBODY) - set(app.view_functions)


@pytest.fixture
def other_teacher(
    store: Store, clock: StandingClock, classroom: Classroom, sign_in: SignIn
) -> FlaskClient:
    """Return the browser of a teacher of the same school with no class."""
    with store.open_session(writing=True) as session:
        rows.bind(session)
        row = TeacherFactory(school_id=classroom.school_id)
        actor = Actor(role=Role.TEACHER, school_id=classroom.school_id, teacher_id=row.id)
    return sign_in(actor)


def test_another_teacher_finds_nothing(
    app: Flask, other_teacher: FlaskClient, classroom: Classroom
) -> None:
    """Pages of a class or group look as if they were not there to a teacher of other classes."""
    seen = [
        f"{rule.rule} {answer.status_code}"
        for rule, method, address in _addresses(app, classroom)
        if method == "GET" and {"class_id", "group_id"} & rule.arguments
        for answer in [other_teacher.get(address, buffered=True)]
        if answer.status_code != HTTPStatus.NOT_FOUND and not _only_leads_on(answer)
    ]
    assert [] == seen


def test_another_group_finds_nothing(app: Flask, sign_in: SignIn, classroom: Classroom) -> None:
    """Pages of a group look as if they were not there to the tablet of another group."""
    tablet = sign_in(classroom.tablets[1])
    seen = [
        f"{rule.rule} {answer.status_code}"
        for rule, method, address in _addresses(app, classroom)
        if method == "GET" and "group_id" in rule.arguments
        for answer in [tablet.get(address, buffered=True)]
        if answer.status_code not in {HTTPStatus.NOT_FOUND, HTTPStatus.FORBIDDEN}
        and not _only_leads_on(answer)
    ]
    assert [] == seen


def test_no_state_changes_by_looking(app: Flask) -> None:
    """A route that changes something does not answer GET under the same function."""
    both = [
        rule.rule
        for rule in app.url_map.iter_rules()
        if "GET" in (rule.methods or ()) and {"PUT", "PATCH", "DELETE"} & (rule.methods or set())
    ]
    assert [] == both
