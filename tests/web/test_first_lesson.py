"""From an empty journal to the first trial: at every step each page that can be opened answers."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from html import unescape
from uuid import uuid4

import pytest
from flask.testing import FlaskClient

from journal.domain.actors import OPERATOR
from journal.domain.sessions import checks_of
from journal.records.work import open_work
from journal.services.teachers import add_teacher
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.web.forms import forms_of

NAME, PASSWORD = "reed", "seven green windows"
ADDRESS = re.compile(r'(?:href|hx-get|data-href)="(/[^"#]*)')
#: What is no page: files, and a print that is queued by looking at it.
NO_PAGES = re.compile(r"^/(static/|sign-out)|portfolio\.pdf")

#: The class itself, and pages of the teacher alone.
NOT_OF_A_CLASS = {"7C", "Your classes", "A new class", "Change your password"}


@pytest.fixture
def reed(nobody: FlaskClient, store: Store, clock: StandingClock) -> FlaskClient:
    """Return the browser of a teacher whose journal is empty."""
    with open_work(store, OPERATOR, clock=clock) as work:
        add_teacher(work, sign_in_name=NAME, shown_name="Ms Reed", password=PASSWORD)
    answer = nobody.post("/teacher", data={"sign_in_name": NAME, "password": PASSWORD})
    assert 303 == answer.status_code
    return nobody


def test_each_page_answers_from_the_first_class_to_the_first_trial(
    reed: FlaskClient, nobody: FlaskClient
) -> None:
    """No page refuses at any step, and the line of next steps leads through all of them."""
    del nobody
    desk = _make_class(reed, "7C", "6-8")
    tablet = reed.application.test_client()
    steps: list[tuple[str, Callable[[], object]]] = [
        ("Add students", lambda: _paste(reed, desk)),
        ("Make groups", lambda: reed.post(f"{desk}/groups/deal")),
        (
            "Choose a challenge",
            lambda: reed.post(f"{desk}/challenges", data={"key": "beyond_the_ditch"}),
        ),
        ("Start a session", lambda: _send(reed, f"{desk}/sessions", "/sessions")),
        ("Give out a lesson word", lambda: reed.post(f"{desk}/word", data={"hours": "2"})),
        ("Let the tablets in", lambda: _come_in(reed, desk, tablet)),
        ("Open the lane", lambda: _open_lane(reed, desk)),
        ("See where each group is", lambda: _log_a_trial(tablet)),
    ]
    for said, go_on in steps:
        assert said == _next_of(reed, desk)
        assert [] == _refusals(reed), said
        go_on()
    assert "" == _next_of(reed, desk)
    assert [] == _refusals(reed)


def _make_class(teacher: FlaskClient, name: str, band: str) -> str:
    form = forms_of(teacher.get("/classes/new").text)[-1].values
    answer = teacher.post("/classes/new", data=form | {"name": name, "band": band})
    assert 303 == answer.status_code, "The proposed date is taken as it stands."
    return str(answer.location)


def _paste(teacher: FlaskClient, desk: str) -> None:
    teacher.post(f"{desk}/students/new", data={"nicknames": "Pim\nJuno\nTilly\nBo\n"})


def _send(browser: FlaskClient, page: str, action: str, **more: str) -> str:
    """Send the form of a page whose action ends so, as it stands; return where it leads."""
    forms = forms_of(browser.get(page).text)
    form = next(form for form in forms if (form.action or page).endswith(action))
    answer = browser.post(form.action or page, data=form.values | more)
    assert 303 == answer.status_code, answer.text
    return str(answer.location)


def _come_in(teacher: FlaskClient, desk: str, tablet: FlaskClient) -> None:
    found = re.search(r"[a-z]+-[a-z]+-\d{3}", teacher.get(desk).text)
    assert found
    tablet.post("/", data={"word": found[0]})
    shelf = tablet.get("/door/groups").text
    names = re.search(r"/door/groups/[0-9a-f-]{36}", shelf)
    assert names
    student = re.search(r'name="student_id" value="([^"]+)"', tablet.get(names[0]).text)
    assert student
    assert 303 == tablet.post(names[0], data={"student_id": student[1]}).status_code


def _open_lane(teacher: FlaskClient, desk: str) -> None:
    page = next(
        address
        for address in _addresses(teacher.get(f"{desk}/sessions").text)
        if "/sessions/" in address
    )
    checks = [check.value for check in checks_of(launches=True)]
    assert 303 == teacher.post(f"{page}/gate", data={"checks": checks}).status_code


def _log_a_trial(tablet: FlaskClient) -> None:
    group = str(tablet.get("/door/wait").location).removesuffix("/journal")
    build = tablet.get(f"{group}/stages/build").text
    part = next(address for address in _addresses(build) if "/revisions/new" in address)
    _send(tablet, unescape(part), "/revisions/new")
    _send(tablet, f"{group}/stages/build", "/revisions/first")
    page = tablet.get(f"{group}/trials/new").text
    # Its fields stand all over the page and name their form; of several, the first one is taken.
    choices = r'<select form="log" name="([^"]+)"[^>]*>\s*<option(?: value="([^"]*)")?[^>]*>([^<]*)'
    values = {name: value or text for name, value, text in re.findall(choices, page)}
    values["scribe_id"] = ""
    inputs = r'<input[^>]* name="(student_id|shared)" value="([^"]+)"'
    values |= dict(reversed(re.findall(inputs, page)))
    values |= {"trial_id": str(uuid4()), "at": "zone:bark"}
    answer = tablet.post(f"{group}/trials", data=values)
    assert 303 == answer.status_code, answer.text


def _next_of(teacher: FlaskClient, page: str) -> str:
    found = re.search(r'<section class="next-line".*?</section>', teacher.get(page).text, re.DOTALL)
    if found is None:
        return ""
    plain = re.findall(r"<(?:b class=\"next-do\"|span)>([^<]+)<", found[0])
    return str(plain[0])


def _addresses(html: str) -> Iterator[str]:
    return (unescape(address) for address in ADDRESS.findall(html) if not NO_PAGES.search(address))


def _lost_way(html: str) -> str:
    """Return what is wrong with the way back to the class in the head of a page."""
    title = re.search(r"<title>(.*?)</title>", html)
    head = re.search(r'<header class="head">.*?</header>', html, re.DOTALL)
    if title is None or head is None or title[1] in NOT_OF_A_CLASS:
        return ""
    ways = re.findall(r'href="/classes/[0-9a-f-]{36}"', head[0])
    return "" if len(ways) == 1 else f"{len(ways)} ways back to the class"


def _refusals(teacher: FlaskClient) -> list[str]:
    """Open every page that links lead to from the teacher's home; return those that refuse."""
    refusals, seen, ahead = [], set(), ["/classes"]
    while ahead:
        address = ahead.pop()
        seen.add(address)
        answer = teacher.get(address)
        if answer.status_code not in {200, 204, 302, 303}:
            refusals.append(f"{address}: {answer.status_code}")
        if answer.status_code == 200 and (lost := _lost_way(answer.text)):
            refusals.append(f"{address}: {lost}")
        html = answer.text if answer.status_code == 200 else f'href="{answer.location or ""}"'
        ahead += {*_addresses(html)} - seen - {*ahead}
    return refusals
