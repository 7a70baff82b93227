"""A child that left the group or the class: its tablet is out, what it had kept before comes in."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from uuid import uuid4

import pytest
from flask.testing import FlaskClient

from journal.domain.actors import TabletState
from journal.domain.parts import PartEventKind
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import NICKNAMES, Classroom
from tests.services.test_trial_refusals import happen, own_part
from tests.web.conftest import SignIn
from tests.web.test_trial_api import body_of


@pytest.fixture
def adas(sign_in: SignIn, classroom: Classroom) -> FlaskClient:
    """Return the tablet on which Ada of the first group came in."""
    return sign_in(replace(classroom.tablets[0], student_id=classroom.student_ids[0][0]))


def _place(teacher: FlaskClient, classroom: Classroom, place: object) -> None:
    address = f"/classes/{classroom.class_id}/students/{classroom.student_ids[0][0]}"
    assert 303 == teacher.post(address, data={"place": str(place)}).status_code


@pytest.mark.parametrize("leaves", ["the class", "for another group", "for no group"])
def test_whoever_left_reads_and_logs_no_more(
    adas: FlaskClient,
    teacher: FlaskClient,
    classroom: Classroom,
    clock: StandingClock,
    leaves: str,
) -> None:
    """At once, on the next request; the door asks for the word again and says why."""
    group = classroom.group_ids[0]
    assert 200 == adas.get(f"/groups/{group}/journal").status_code
    places = {"the class": "away", "for no group": "none"}
    _place(teacher, classroom, places.get(leaves, classroom.group_ids[1]))
    clock.move(seconds=5)
    for path in (f"/groups/{group}/journal", f"/groups/{classroom.group_ids[1]}/journal"):
        assert "/" == adas.get(path).location
    assert 401 == adas.get(f"/api/groups/{group}/findings").status_code
    assert 401 == adas.put(f"/api/trials/{uuid4()}", json=body_of(classroom, clock)).status_code
    door = adas.get("/door/wait", follow_redirects=True)
    assert "You are not in this group any more." in door.text
    assert "What is the word on the board?" in door.text
    desk = teacher.get(f"/classes/{classroom.class_id}/tablets").text
    assert "No tablet is signed in." in desk


def test_what_waited_on_the_tablet_is_taken(
    adas: FlaskClient, teacher: FlaskClient, classroom: Classroom, clock: StandingClock
) -> None:
    """By the tablet's own clock put right: this one is an hour slow, and was without network."""
    hour = 3600
    before = body_of(classroom, clock)
    clock.move(minutes=2)
    _place(teacher, classroom, "away")
    after = body_of(classroom, clock)
    clock.move(minutes=3)
    for body in (before, after):
        body["logged_at"] = _earlier(body["logged_at"], hour)
    now = _earlier(clock().isoformat(), hour)
    taken = adas.put(f"/api/trials/{uuid4()}", json=before | {"sent_at": now})
    assert 201 == taken.status_code
    assert 401 == adas.put(f"/api/trials/{uuid4()}", json=after | {"sent_at": now}).status_code


def test_a_tablet_that_was_sent_out_before_sends_nothing(
    sign_in: SignIn, teacher: FlaskClient, classroom: Classroom, clock: StandingClock
) -> None:
    """Leaving the class opens no way round the teacher's hand."""
    out = replace(classroom.tablets[0], student_id=classroom.student_ids[0][0])
    tablet = sign_in(replace(out, tablet_state=TabletState.OUT))
    before = body_of(classroom, clock)
    _place(teacher, classroom, "away")
    assert 401 == tablet.put(f"/api/trials/{uuid4()}", json=before).status_code


def test_whoever_comes_back_is_in_again(
    adas: FlaskClient, teacher: FlaskClient, classroom: Classroom
) -> None:
    """A slip of the teacher's hand is mended without another lesson word."""
    _place(teacher, classroom, "none")
    _place(teacher, classroom, classroom.group_ids[0])
    assert 200 == adas.get(f"/groups/{classroom.group_ids[0]}/journal").status_code


@pytest.mark.parametrize("kind", [None, PartEventKind.LOST, PartEventKind.BROKEN])
def test_another_groups_part_is_refused_without_its_childs_name(
    sign_in: SignIn,
    store: Store,
    classroom: Classroom,
    clock: StandingClock,
    kind: PartEventKind | None,
) -> None:
    """Neither the child nor what happened to its dart is told."""
    foreign = classroom.own_revision_ids[1][0]
    if kind is not None:
        happen(store, clock, classroom, own_part(store, classroom, 1, 0), kind)
    used = [str(classroom.shared_revision_ids[0]), str(foreign)]
    answer = sign_in(classroom.tablets[0]).put(
        f"/api/trials/{uuid4()}", json=body_of(classroom, clock, revision_ids=used)
    )
    assert 422 == answer.status_code
    told = answer.json["errors"]["revision_ids"]
    assert ["This dart is another group’s. Borrow it first."] == told
    assert [] == [name for name in NICKNAMES[1] if name in answer.text]


def _earlier(moment: str, seconds: int) -> str:
    return (datetime.fromisoformat(moment) - timedelta(seconds=seconds)).isoformat()
