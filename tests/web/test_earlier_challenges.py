"""A challenge stays within reach once the class works on the next one."""

from __future__ import annotations

import io
from pathlib import Path
from uuid import uuid4

import pypdf
from flask.testing import FlaskClient

from journal.content.library import get_ready_challenge
from journal.domain.actors import OPERATOR
from journal.domain.challenges import Challenge
from journal.domain.sessions import SessionEntry
from journal.jobs.prints import PRINTS
from journal.records.work import open_work
from journal.store import challenges, classes, sessions
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.jobs.printing import do_all, new_dispatcher
from tests.services.trial_entries import entry_of, log


def test_findings_and_portfolio_of_the_challenge_before_can_be_read(
    teacher: FlaskClient,
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    instance: Path,
) -> None:
    """The group's page leads to it, by its title; nobody else's challenge is found so."""
    group_id = classroom.group_ids[0]
    log(store, clock, classroom.tablets[0], entry_of(classroom, clock))
    bridge = go_on_to_bridges(store, clock, classroom)

    now = teacher.get(f"/groups/{group_id}/findings").text
    earlier = f"/groups/{group_id}/findings?challenge={classroom.challenge_id}"
    assert earlier in now
    assert classroom.challenge.title in now
    page = teacher.get(earlier).text
    assert "8 points" in page
    assert f"challenge={bridge.id}" in page
    address = f"/groups/{group_id}/portfolio.pdf?challenge={classroom.challenge_id}"
    assert 303 == teacher.get(address).status_code
    do_all(new_dispatcher(store, instance / PRINTS, clock))
    paper = teacher.get(address)
    first = pypdf.PdfReader(io.BytesIO(paper.data)).pages[0].extract_text()
    assert classroom.challenge.title in first
    assert 404 == teacher.get(f"/groups/{group_id}/findings?challenge={uuid4()}").status_code


def test_tablet_reads_the_challenge_before_and_changes_nothing_there(
    tablet: FlaskClient, store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The journal leads to it; there is no form, no lane, and nothing of another class."""
    group_id = classroom.group_ids[0]
    log(store, clock, classroom.tablets[0], entry_of(classroom, clock))
    earlier = f"/groups/{group_id}/journal/{classroom.challenge_id}"
    assert f"/groups/{group_id}/journal" == tablet.get(earlier).headers["Location"]
    assert "Our other challenges" not in tablet.get(f"/groups/{group_id}/journal").text
    go_on_to_bridges(store, clock, classroom)

    assert f'href="{earlier}"' in tablet.get(f"/groups/{group_id}/journal").text
    page = tablet.get(earlier).text
    assert classroom.challenge.title in page
    assert "1 trial" in page
    assert "<form" not in page
    assert 'id="lane"' not in page
    assert 404 == tablet.get(f"/groups/{group_id}/journal/{uuid4()}").status_code
    other = f"/groups/{classroom.group_ids[1]}/journal/{classroom.challenge_id}"
    assert 404 == tablet.get(other).status_code


def go_on_to_bridges(store: Store, clock: StandingClock, classroom: Classroom) -> Challenge:
    """End the session and start one of the next challenge."""
    with open_work(store, OPERATOR, clock=clock) as work:
        sessions.end_session(work.session, classroom.session_id, clock())
        school_class = classes.get_class(work.session, classroom.class_id)
        bridge = challenges.add_challenge(
            work.session, school_class, get_ready_challenge("paper_bridge"), clock()
        )
        assert bridge.id is not None
        entry = SessionEntry(challenge_id=bridge.id, distance_mm=None, lanes=1)
        sessions.add_session(work.session, school_class, entry, panel="", started_at=clock())
    return bridge
