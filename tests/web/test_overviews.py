"""The overview in a browser: the page, the question asked every two seconds, one-tap visits."""

from __future__ import annotations

import re

from flask.testing import FlaskClient

from journal.domain.actors import OPERATOR
from journal.records.work import open_work
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.web.conftest import SignIn


def test_the_page_holds_each_group_and_its_portfolio(
    teacher: FlaskClient, classroom: Classroom
) -> None:
    """Every group has its row, its visit and its portfolio in one tap."""
    page = teacher.get(f"/classes/{classroom.class_id}/overview")
    assert 200 == page.status_code
    assert "Go here next" in page.text
    for group_id in classroom.group_ids:
        assert f"/groups/{group_id}/portfolio.pdf" in page.text


def test_nothing_new_is_said_without_a_body(
    teacher: FlaskClient, classroom: Classroom, clock: StandingClock
) -> None:
    """The same question answers 304 until something is logged or the minutes move on."""
    address = f"/classes/{classroom.class_id}/overview/now"
    # The start of a tick of ten seconds, so that the next question lies in the same one.
    clock.move(seconds=10 - clock.time.timestamp() % 10)
    first = teacher.get(address)
    again = teacher.get(address, headers={"If-None-Match": first.headers["ETag"]})
    teacher.post(f"/groups/{classroom.group_ids[0]}/visits")
    after = teacher.get(address, headers={"If-None-Match": first.headers["ETag"]})
    clock.move(seconds=11)
    later = teacher.get(address, headers={"If-None-Match": after.headers["ETag"]})
    assert [200, 304, 200, 200] == [one.status_code for one in (first, again, after, later)]
    assert b"" == again.data


def test_overview_and_findings_answer_by_api(
    teacher: FlaskClient, tablet: FlaskClient, classroom: Classroom
) -> None:
    """The tablet reads its own findings; the overview and another group's are not for it."""
    overview = teacher.get(f"/api/classes/{classroom.class_id}/overview")
    assert 2 == len(overview.get_json()["rows"])
    own = tablet.get(f"/api/groups/{classroom.group_ids[0]}/findings")
    assert "Launcher 1" == own.get_json()["revisions"][0]["label"]
    assert 404 == tablet.get(f"/api/groups/{classroom.group_ids[1]}/findings").status_code
    assert 403 == tablet.get(f"/api/classes/{classroom.class_id}/overview").status_code


def test_another_teacher_finds_no_such_class(
    sign_in: SignIn, classroom: Classroom, store: Store, clock: StandingClock
) -> None:
    """Neither the page nor the moving part nor the API tells that the class exists."""
    with open_work(store, OPERATOR, clock=clock) as work:
        other = make_classroom(work.session, clock()).teacher
    stranger = sign_in(other)
    for address in (
        f"/classes/{classroom.class_id}/overview",
        f"/classes/{classroom.class_id}/overview/now",
        f"/api/classes/{classroom.class_id}/overview",
        f"/groups/{classroom.group_ids[0]}/findings",
    ):
        assert 404 == stranger.get(address).status_code


def test_later_puts_a_group_behind_the_others_for_ten_minutes(
    teacher: FlaskClient, classroom: Classroom, clock: StandingClock
) -> None:
    """On this screen, at once and after it is loaded anew; then the group comes again."""
    page = f"/classes/{classroom.class_id}/overview"
    first = _go_next(teacher.get(page).text)
    asked = teacher.get(f"{page}/now")
    later = re.search(r'action="(/groups/[^"]+/later)"', asked.text)
    assert later
    said = teacher.post(later[1], headers={"HX-Request": "true"})
    assert "comes after the others for 10 minutes" in said.text
    assert "journal-news" == said.headers["HX-Trigger"]
    again = teacher.get(f"{page}/now", headers={"If-None-Match": asked.headers["ETag"]})
    assert 200 == again.status_code
    other = _go_next(again.text)
    assert first != other == _go_next(teacher.get(page).text)
    clock.move(minutes=10, seconds=1)
    assert first == _go_next(teacher.get(page).text)


def _go_next(html: str) -> str:
    found = re.search(r'class="go-next"><a[^>]*>([^<]+)<', html)
    assert found
    return found[1]
