"""A group's own pages in a browser: what all of them hold to, and the journal itself."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from flask.testing import FlaskClient

from journal.content.library import ready_challenges
from journal.domain.actors import OPERATOR, Actor
from journal.domain.classes import GradeBand
from journal.domain.stages import Stage
from journal.records.work import open_work
from journal.store import challenges, sessions, stages
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.services.trial_entries import bridge_entry, log, make_bridge_room
from tests.web.conftest import SignIn
from tests.web.told_numbers import words_of_page

PAGES = ("journal", "parts", "ladder", "revisions/new", *(f"stages/{one.value}" for one in Stage))


def _base(room: Classroom, group: int = 0) -> str:
    return f"/groups/{room.group_ids[group]}"


@pytest.mark.parametrize("path", PAGES)
def test_every_page_shows_for_group_and_teacher_and_writes_nothing(
    tablet: FlaskClient, teacher: FlaskClient, store: Store, classroom: Classroom, path: str
) -> None:
    """A GET is never an arrival."""
    for browser in (tablet, teacher):
        answer = browser.get(f"{_base(classroom)}/{path}")
        assert 200 == answer.status_code
        assert classroom.challenge.caution in answer.text
    with open_work(store, OPERATOR, writing=False) as work:
        group_id = classroom.group_ids[0]
        assert stages.find_last_step(work.session, group_id, classroom.challenge_id) is None


@pytest.mark.parametrize("path", PAGES)
def test_another_groups_pages_are_not_found(
    tablet: FlaskClient, nobody: FlaskClient, classroom: Classroom, path: str
) -> None:
    """Nobody else learns that they exist; who is not signed in is led to the door."""
    url = f"{_base(classroom, 1)}/{path}"
    assert 404 == tablet.get(url).status_code
    assert 303 == nobody.get(url).status_code


@pytest.mark.parametrize("path", PAGES)
@pytest.mark.parametrize("key", [challenge.key for challenge in ready_challenges()])
def test_every_page_shows_before_anything_was_built(
    store: Store, sign_in: Callable[[Actor], FlaskClient], path: str, key: str
) -> None:
    """An empty group of each ready challenge, gate shut, has the same pages."""
    with open_work(store, OPERATOR) as work:
        room = make_classroom(work.session, work.now(), challenge_key=key, gate_open=False)
        for table in ("revisions", "parts"):
            work.session.connection().exec_driver_sql(f"DELETE FROM {table}")  # noqa: S608
    answer = sign_in(room.tablets[0]).get(f"{_base(room)}/{path}")
    assert 200 == answer.status_code


@pytest.mark.parametrize(
    ("key", "band", "said"),
    [
        ("beyond_the_ditch", GradeBand.TWO, ("There is no launcher yet.", "Build one.")),
        ("beyond_the_ditch", GradeBand.THREE_TO_FIVE, ("There is no launcher yet.", "Build the")),
        ("paper_bridge", GradeBand.SIX_TO_EIGHT, ("no revision of the bridge yet", "Build the")),
    ],
)
def test_a_journal_without_a_revision_says_so_and_what_comes_first(
    store: Store,
    sign_in: Callable[[Actor], FlaskClient],
    key: str,
    band: GradeBand,
    said: tuple[str, str],
) -> None:
    """It speaks of no revision that is not there; the teacher's page says the same."""
    with open_work(store, OPERATOR) as work:
        room = make_classroom(work.session, work.now(), challenge_key=key, band=band)
        connection = work.session.connection()
        connection.exec_driver_sql("DELETE FROM revisions WHERE part_id IN (SELECT id FROM parts)")
    page = words_of_page(sign_in(room.tablets[0]).get(f"{_base(room)}/journal").text)
    for words in said:
        assert words in page
    assert "of this revision" not in page
    desk = words_of_page(sign_in(room.teacher).get(f"{_base(room)}/findings").text)
    assert "no revision of the" in desk
    assert "of this revision" not in desk


def test_a_journal_without_a_trial_says_so(tablet: FlaskClient, classroom: Classroom) -> None:
    """What was built stands there, and nothing tells to build it."""
    page = words_of_page(tablet.get(f"{_base(classroom)}/journal").text)
    assert "No trials yet. The first ones will stand here." in page
    assert "Build the first one" not in page


def test_the_groups_name_leads_to_its_journal(tablet: FlaskClient, classroom: Classroom) -> None:
    """The head of every page has the short address."""
    answer = tablet.get(_base(classroom))
    assert f"{_base(classroom)}/journal" == answer.location


def test_the_journal_says_what_waits(
    store: Store, sign_in: Callable[[Actor], FlaskClient], tablet: FlaskClient, classroom: Classroom
) -> None:
    """Without a gate, and without a session, the reason stands there."""
    with open_work(store, OPERATOR) as work:
        shut = make_classroom(work.session, work.now(), gate_open=False)
    page = sign_in(shut.tablets[0]).get(f"{_base(shut)}/journal").text
    assert "Your teacher checks the lane and the goggles first." in page
    assert "Your teacher checks" not in tablet.get(f"{_base(classroom)}/journal").text
    with open_work(store, OPERATOR) as work:
        sessions.end_session(work.session, classroom.session_id, work.now())
    page = tablet.get(f"{_base(classroom)}/journal").text
    assert "Your teacher has not started a session yet." in page


def test_a_group_without_a_challenge_is_told_so(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """Before the teacher opens one there is nothing to walk through."""
    with open_work(store, OPERATOR) as work:
        other = make_classroom(work.session, work.now())
        found = challenges.challenges_of_class(work.session, classroom.class_id)
    assert 1 == len(found)
    assert 404 == tablet.get(f"{_base(other)}/journal").status_code


def test_a_bridge_that_breaks_in_each_test_is_no_news_on_its_journal(
    sign_in: SignIn, store: Store, clock: StandingClock
) -> None:
    """Ten loads made twenty sentences: "Bridge broke. Bridge is whole again." ten times."""
    room = make_bridge_room(store, clock)
    log(store, clock, room.tablets[0], bridge_entry(room, clock))

    page = sign_in(room.tablets[0]).get(f"{_base(room)}/journal").text

    assert "Bridge broke." not in page
    assert "broken" in page
