"""Every route and method with every role: whoever is not let in learns and changes nothing."""

from __future__ import annotations

import re
from http import HTTPStatus

import pytest
from werkzeug.test import TestResponse

from tests.factories.classrooms import NICKNAMES
from tests.web.role_house import House, house
from tests.web.role_table import (
    FORM_IDS,
    REFUSED_AS_ENTRY,
    read_rows,
)

__all__ = ["house"]

TABLE = read_rows()
#: Roles by what they hold in their hand, and which rows let them in.
LET_IN = {
    "nobody": {"anybody"},
    "a sign-in that has ended": {"anybody"},
    "a tablet that waits": {"anybody", "tablets"},
    "a tablet that was sent out": {"anybody"},
    "the tablet of a child who left": {"anybody"},
    "the group's tablet": {"anybody", "tablets", "group"},
    "another group's tablet": {"anybody", "tablets"},
    "another class's tablet": {"anybody", "tablets"},
    "the class's board": {"anybody", "board"},
    "another class's board": {"anybody"},
    "the teacher": {"anybody", "teachers", "teacher", "board", "group"},
    "another teacher": {"anybody", "teachers"},
    "a made-up cookie": {"anybody"},
}
UNPROCESSABLE = HTTPStatus.UNPROCESSABLE_ENTITY
NAMES = re.compile(rf"\b(?:{'|'.join(name for names in NICKNAMES for name in names)})\b")
OWN = ("the teacher", "the group's tablet")
CLOSED = {HTTPStatus.UNAUTHORIZED, HTTPStatus.FORBIDDEN, HTTPStatus.NOT_FOUND}


def _is_shut(answer: TestResponse) -> bool:
    """Tell whether somebody was told that nothing is there, or was led to the door."""
    return answer.status_code in CLOSED or (
        answer.status_code in {HTTPStatus.FOUND, HTTPStatus.SEE_OTHER} and answer.location == "/"
    )


@pytest.mark.parametrize(("method", "endpoint"), list(TABLE), ids=str)
def test_whoever_is_not_let_in_learns_and_changes_nothing(
    house: House, method: str, endpoint: str
) -> None:
    """Shut means the door, 401, 403 or 404, no child's name, and not a row changed."""
    house.rebuild()
    before = house.content()
    lets_in = TABLE[method, endpoint]
    for role in [one for one, kinds in LET_IN.items() if lets_in not in kinds]:
        answer = house.ask(role, method, endpoint)
        refused = endpoint in REFUSED_AS_ENTRY and answer.status_code == UNPROCESSABLE
        assert _is_shut(answer) or refused, f"{role}: {answer.status_code}"
        assert [] == NAMES.findall(answer.text), role
    assert before == house.content()


@pytest.mark.parametrize(("method", "endpoint"), list(TABLE), ids=str)
def test_whoever_is_let_in_gets_past_the_door(house: House, method: str, endpoint: str) -> None:
    """Whatever is said about the form, nobody who belongs there is sent away."""
    lets_in = TABLE[method, endpoint]
    for role in [one for one, kinds in LET_IN.items() if lets_in in kinds - {"anybody"}]:
        house.rebuild()
        answer = house.ask(role, method, endpoint)
        assert not _is_shut(answer), f"{role}: {answer.status_code}"
        assert answer.status_code < HTTPStatus.INTERNAL_SERVER_ERROR, role


@pytest.mark.parametrize(("method", "endpoint"), list(TABLE), ids=str)
def test_ids_of_another_class_are_taken_nowhere(house: House, method: str, endpoint: str) -> None:
    """Put beside an own id in an address, or into a form, they lead to nothing and are not kept."""
    house.rebuild()
    count = house.count(house.foreign)
    asked = [one for one in OWN if TABLE[method, endpoint] in LET_IN[one]]
    inner = house.arguments(endpoint) & set(house.ids)
    house.end_before(endpoint)
    for role in asked:
        for name in inner if len(inner) > 1 else ():
            answer = house.ask(role, method, endpoint, **{name: house.foreign[name]})
            assert _is_shut(answer), f"{role}, {name}: {answer.status_code}"
        if method == "GET" or endpoint not in FORM_IDS:
            continue
        for name in FORM_IDS[endpoint](house.foreign):
            # A field may be named after an id itself: then the foreign one comes beside the own.
            theirs = FORM_IDS[endpoint](house.foreign)
            form = FORM_IDS[endpoint](house.ids) | {name: theirs[name]}
            answer = house.ask(role, method, endpoint, form)
            assert answer.status_code < HTTPStatus.INTERNAL_SERVER_ERROR, (role, name)
    assert count == house.count(house.foreign)


@pytest.mark.parametrize("endpoint", list(FORM_IDS))
def test_the_same_forms_are_taken_with_own_ids(house: House, endpoint: str) -> None:
    """So it was the other class's id for which they were refused, and nothing else."""
    house.rebuild()
    house.end_before(endpoint)
    before = house.content()
    method = next(one for one, named in TABLE if named == endpoint and one != "GET")
    role = next(one for one in OWN if TABLE[method, endpoint] in LET_IN[one])
    answer = house.ask(role, method, endpoint, FORM_IDS[endpoint](house.ids))
    assert answer.status_code < HTTPStatus.BAD_REQUEST
    assert before != house.content()


def test_nobody_is_told_that_a_page_has_not_changed(house: House) -> None:
    """That something happened in a class is for its teacher, however the question is put."""
    house.rebuild()
    for role in [one for one, kinds in LET_IN.items() if "teacher" not in kinds]:
        for endpoint in [one for method, one in TABLE if method == "GET"]:
            if TABLE["GET", endpoint] in {"teacher", "teachers"} - LET_IN[role]:
                answer = house.ask(role, "GET", endpoint, headers={"If-None-Match": "*"})
                assert _is_shut(answer), f"{role}, {endpoint}: {answer.status_code}"


def test_every_route_that_changes_something_asks_for_the_token(house: House) -> None:
    """Without the token of a page of ours no form and no entry is taken, from anybody."""
    house.rebuild()
    before = house.content()
    house.app.config["WTF_CSRF_ENABLED"] = True
    try:
        for method, endpoint in TABLE:
            if method != "GET":
                for role in ("nobody", "the group's tablet", "the teacher"):
                    answer = house.ask(role, method, endpoint)
                    assert HTTPStatus.BAD_REQUEST == answer.status_code, (endpoint, role)
    finally:
        house.app.config["WTF_CSRF_ENABLED"] = False
    assert before == house.content()
