"""Errors as answers: one shape for programs, a plain page for people, never a trace."""

import sqlite3
from collections.abc import Iterator
from http import HTTPStatus

import pytest
from flask import Flask, request
from flask.testing import FlaskClient
from sqlalchemy.exc import OperationalError

from journal.content.messages import word_message
from journal.domain.errors import (
    Clash,
    Conflict,
    DiskFull,
    GateShut,
    Invalid,
    JournalError,
    NotAllowed,
    NotFound,
    NotKept,
    OutOfReach,
    Problem,
    Refused,
    SignedOut,
)
from journal.domain.parked_trials import Misplaced
from journal.store.failures import READING
from journal.web.problems import PROBLEM_KINDS
from journal.web.request_work import request_work
from tests.sentences import sentence_of

#: Members that RFC 9457, section 3.1, gives to problem details.
RFC_9457 = {"type", "title", "status", "detail", "instance"}
PROBLEM_JSON = "application/problem+json"
RAISED: dict[str, JournalError] = {
    "invalid": Invalid("Two things.", [Problem("name", "Give a name."), Problem("day", "No day.")]),
    "not-found": NotFound("There is no such group."),
    "not-allowed": NotAllowed("This page is for the teacher."),
    "signed-out": SignedOut("Nobody is signed in here."),
    "refused": Refused("This revision is set aside."),
    "gate-shut": GateShut("Your teacher opens launching soon."),
    "clash": Clash(),
    "disk-full": DiskFull(),
    "out-of-reach": OutOfReach(),
    "not-kept": NotKept("Nothing was kept."),
    "conflict": Conflict("This number holds another entry.", {"value": 4}, {"value": 8}),
}
STATUS = {
    "invalid": 422,
    "not-found": 404,
    "not-allowed": 403,
    "signed-out": 401,
    "refused": 409,
    "gate-shut": 409,
    "clash": 409,
    "disk-full": 507,
    "out-of-reach": 503,
    "not-kept": 503,
    "conflict": 409,
}


def _disk_error(code: int) -> OperationalError:
    original = sqlite3.OperationalError("database or disk is full")
    original.sqlite_errorcode = code
    error = OperationalError("INSERT", {}, original)
    error.__cause__ = original
    return error


@pytest.fixture
def asked(app: Flask) -> Iterator[FlaskClient]:
    """Return a browser for an application with routes that raise what a test names."""

    @app.get("/raise/<name>")
    @app.get("/api/raise/<name>", endpoint="api_raise")
    def raise_named(name: str) -> str:
        raise RAISED[name]

    @app.get("/raise/disk/<int:code>")
    @app.post("/raise/disk/<int:code>", endpoint="raise_writing")
    def raise_disk(code: int) -> str:
        with request_work():
            raise _disk_error(code)

    @app.get("/raise/unforeseen")
    def raise_unforeseen() -> str:
        message = "secret words of the inside"
        raise RuntimeError(message)

    app.config["PROPAGATE_EXCEPTIONS"] = False
    with app.test_client() as browser:
        yield browser


#: Caught by the service that parks the entry; if it ever got out, the row of Refused would hold.
NEVER_LEAVE = {Misplaced}


def test_the_table_holds_every_error_of_the_house() -> None:
    """Each class of the error tree has a row of its own, the special ones above the general."""
    tree: list[type[JournalError]] = []
    left = list(JournalError.__subclasses__())
    while left:
        error = left.pop()
        tree.append(error)
        left += error.__subclasses__()
    rows = [kind.error for kind in PROBLEM_KINDS]
    assert set(tree) - NEVER_LEAVE == set(rows)
    later = {(one, two) for at, one in enumerate(rows) for two in rows[at + 1 :]}
    assert set() == {(one, two) for one, two in later if issubclass(two, one)}


@pytest.mark.parametrize("name", RAISED)
def test_a_program_gets_problem_details(asked: FlaskClient, name: str) -> None:
    """The answer has the members of RFC 9457 and says what the error says."""
    answer = asked.get(f"/api/raise/{name}")
    body = answer.get_json()
    assert (STATUS[name], PROBLEM_JSON) == (answer.status_code, answer.mimetype)
    assert RFC_9457 <= body.keys()
    assert (STATUS[name], f"/api/raise/{name}") == (body["status"], body["instance"])
    assert (sentence_of(RAISED[name]), f"/problems/{name}") == (body["detail"], body["type"])


def test_problems_stand_by_field(asked: FlaskClient) -> None:
    """What was entered wrongly is told per field."""
    body = asked.get("/api/raise/invalid").get_json()
    assert {"name": ["Give a name."], "day": ["No day."]} == body["errors"]


def test_a_conflict_shows_both_contents(asked: FlaskClient) -> None:
    """The kept and the sent content are there to compare."""
    body = asked.get("/api/raise/conflict").get_json()
    assert ({"value": 4}, {"value": 8}) == (body["kept"], body["sent"])


@pytest.mark.parametrize("name", [name for name in RAISED if name != "signed-out"])
def test_a_person_gets_a_page_with_the_same_words(asked: FlaskClient, name: str) -> None:
    """A browser gets a page of our own with the sentence and the same status."""
    answer = asked.get(f"/raise/{name}", headers={"Accept": "text/html"})
    assert (STATUS[name], "text/html") == (answer.status_code, answer.mimetype)
    assert sentence_of(RAISED[name]) in answer.text


def test_a_page_asks_for_json_by_its_accept_header(asked: FlaskClient) -> None:
    """A program that asks a page gets problem details when it prefers JSON."""
    answer = asked.get("/raise/refused", headers={"Accept": "application/json"})
    assert (409, PROBLEM_JSON) == (answer.status_code, answer.mimetype)


def test_whoever_is_signed_out_is_led_to_the_door(asked: FlaskClient) -> None:
    """A page sends the browser to the door and keeps the sentence for it."""
    answer = asked.get("/raise/signed-out", headers={"Accept": "text/html"})
    assert (303, "/") == (answer.status_code, answer.headers["Location"])
    with asked.session_transaction() as kept:
        assert [("message", "Nobody is signed in here.")] == kept["_flashes"]


def test_a_part_of_a_page_gets_a_notice(asked: FlaskClient) -> None:
    """A request of htmx changes the notices only, so that what was written stays."""
    answer = asked.get("/raise/invalid", headers={"HX-Request": "true"})
    assert (422, "#notices") == (answer.status_code, answer.headers["HX-Retarget"])
    assert "<html" not in answer.text
    assert "Give a name." in answer.text


def test_a_part_of_a_page_leads_to_the_door_too(asked: FlaskClient) -> None:
    """A request of htmx by nobody makes the whole page go to the door."""
    answer = asked.get("/raise/signed-out", headers={"HX-Request": "true"})
    assert (401, "/") == (answer.status_code, answer.headers["HX-Redirect"])


@pytest.mark.parametrize("path", ["/api/nothing", "/nothing/here"])
def test_an_unknown_address_is_not_found(asked: FlaskClient, path: str) -> None:
    """There is no such page, said in the one shape."""
    answer = asked.get(path, headers={"Accept": "application/json"})
    assert (404, "/problems/http-404") == (answer.status_code, answer.get_json()["type"])


def test_the_unforeseen_shows_nothing_of_the_inside(
    asked: FlaskClient, caplog: pytest.LogCaptureFixture
) -> None:
    """A fault of ours is written to the log and never to the screen."""
    answer = asked.get("/raise/unforeseen")
    assert 500 == answer.status_code
    assert "secret words" not in answer.text
    assert "Traceback" not in answer.text
    assert "secret words" in caplog.text


@pytest.mark.parametrize(
    ("code", "status"),
    [
        (sqlite3.SQLITE_FULL, HTTPStatus.INSUFFICIENT_STORAGE),
        (sqlite3.SQLITE_BUSY, HTTPStatus.SERVICE_UNAVAILABLE),
        # An extended code: the snapshot of a reader was overtaken by a writer.
        (sqlite3.SQLITE_BUSY_SNAPSHOT, HTTPStatus.SERVICE_UNAVAILABLE),
        # The disk is there and does not write: a limit, a stick that was pulled out.
        (sqlite3.SQLITE_IOERR_WRITE, HTTPStatus.SERVICE_UNAVAILABLE),
        (sqlite3.SQLITE_CONSTRAINT_UNIQUE, HTTPStatus.CONFLICT),
        (sqlite3.SQLITE_CONSTRAINT_NOTNULL, HTTPStatus.INTERNAL_SERVER_ERROR),
        (sqlite3.SQLITE_ERROR, HTTPStatus.INTERNAL_SERVER_ERROR),
    ],
)
def test_a_full_disk_is_told_from_a_fault(asked: FlaskClient, code: int, status: int) -> None:
    """A full disk is 507, a busy one 503, everything else 500."""
    answer = asked.get(f"/raise/disk/{code}", headers={"Accept": "application/json"})
    assert (status, PROBLEM_JSON) == (answer.status_code, answer.mimetype)


def test_reading_is_not_told_that_an_entry_was_lost(asked: FlaskClient) -> None:
    """Whoever loads a page entered nothing; whoever sends a form did."""
    address, headers = f"/raise/disk/{sqlite3.SQLITE_BUSY}", {"Accept": "application/json"}
    assert word_message(READING) == asked.get(address, headers=headers).get_json()["detail"]
    assert sentence_of(OutOfReach()) == asked.post(address, headers=headers).get_json()["detail"]


def test_a_full_disk_writes_one_line_to_the_log(
    asked: FlaskClient, caplog: pytest.LogCaptureFixture
) -> None:
    """Forty tablets that send again and again do not fill what is left of the disk."""
    for _ in range(40):
        answer = asked.post(f"/raise/disk/{sqlite3.SQLITE_FULL}")
        assert (507, "5") == (answer.status_code, answer.headers["Retry-After"])
    (line,) = caplog.messages
    assert line.endswith("database or disk is full")
    assert caplog.records[0].exc_info is None


def test_another_method_names_those_that_work(nobody: FlaskClient) -> None:
    """405 keeps its Allow header, which RFC 9110 (15.5.6) asks for."""
    answer = nobody.delete("/healthz")
    assert (405, PROBLEM_JSON) == (answer.status_code, answer.mimetype)
    assert "GET" in answer.headers["Allow"]


def test_a_type_leads_to_a_page_about_it(nobody: FlaskClient) -> None:
    """The address in `type` answers, an invented one does not."""
    assert 200 == nobody.get("/problems/gate-shut").status_code
    assert 404 == nobody.get("/problems/anything").status_code


def test_a_large_request_is_refused_in_the_same_shape(app: Flask) -> None:
    """413 comes as problem details too."""

    @app.post("/api/take")
    def take() -> str:
        return str(len(request.get_data()))

    app.config["MAX_CONTENT_LENGTH"] = 10
    answer = app.test_client().post("/api/take", data=b"x" * 11)
    assert (413, PROBLEM_JSON) == (answer.status_code, answer.mimetype)
