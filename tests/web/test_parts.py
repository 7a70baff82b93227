"""The page of a group's parts in a browser: what happened to one, and borrowing."""

from __future__ import annotations

from uuid import uuid4

from flask.testing import FlaskClient

from journal.domain.part_states import PartState
from journal.domain.parts import PartEventKind
from journal.records.group_contexts import get_group_context
from journal.records.work import open_work
from journal.services.parts import borrow_part, parts_of_context, report_event
from journal.store import groups
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom


def _base(room: Classroom, group: int = 0) -> str:
    return f"/groups/{room.group_ids[group]}"


def _states(store: Store, room: Classroom, group: int = 0) -> tuple[PartState, ...]:
    with open_work(store, room.tablets[group], writing=False) as work:
        return parts_of_context(work, get_group_context(work, room.group_ids[group]))


def test_a_part_is_reported_and_borrowed_by_tap(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """Lost, whole again; another group's dart comes and goes."""
    dart = _states(store, classroom)[1].part
    url = f"{_base(classroom)}/parts/{dart.id}/events"
    page = tablet.post(url, data={"kind": "lost"}, follow_redirects=True).text
    assert "1, lost" in page
    page = tablet.post(url, data={"kind": "mended"}, follow_redirects=True).text
    assert "1, lost" not in page
    assert 422 == tablet.post(url, data={"kind": "eaten"}).status_code
    assert 409 == tablet.post(url, data={"kind": "mended"}).status_code
    theirs = _states(store, classroom, group=1)[1].part
    base = f"{_base(classroom)}/parts/{theirs.id}"
    page = tablet.post(f"{base}/borrow", follow_redirects=True).text
    assert "Borrowed from another group" in page
    page = tablet.post(f"{base}/return", follow_redirects=True).text
    assert "Borrowed from another group" not in page


def test_a_group_sees_where_a_lent_dart_is_and_takes_it_back(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """The card names the group that has it; one tap brings it home."""
    dart = _states(store, classroom)[1].part
    theirs = _states(store, classroom, group=1)[1].part
    with open_work(store, classroom.tablets[1]) as work:
        borrow_part(work, classroom.group_ids[1], dart.id)
        name = groups.get_group(work.session, classroom.group_ids[1]).name
    page = tablet.get(f"{_base(classroom)}/parts").text
    assert f"1, with {name}" in page
    assert f"/parts/{theirs.id}/borrow" in page
    assert "We have it back" in page
    page = tablet.post(f"{_base(classroom)}/parts/{dart.id}/borrow", follow_redirects=True).text
    assert "It is with you now." in page
    assert "We have it back" not in page


def test_a_broken_part_is_offered_to_nobody(
    tablet: FlaskClient, store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Nor is it lent where a tablet still shows it: the sentence says to choose another one."""
    theirs = _states(store, classroom, group=1)[1].part
    with open_work(store, classroom.tablets[1], clock=clock) as work:
        report_event(work, classroom.group_ids[1], theirs.id, PartEventKind.BROKEN)
    url = f"{_base(classroom)}/parts/{theirs.id}/borrow"
    assert url not in tablet.get(f"{_base(classroom)}/parts").text
    answer = tablet.post(url)
    assert 409 == answer.status_code
    assert "cannot be used now. Choose another one." in answer.text


def test_what_is_no_report_says_what_to_tap(
    tablet: FlaskClient, store: Store, classroom: Classroom
) -> None:
    """Nothing is kept; a part of nobody, or of another group that has it, is not found."""
    dart = _states(store, classroom)[1].part
    theirs = _states(store, classroom, group=1)[1].part
    base = f"{_base(classroom)}/parts"
    answer = tablet.post(f"{base}/{dart.id}/events", data={"kind": "eaten"})
    assert "Tap what happened: lost, broken or mended." in answer.text
    assert 409 == tablet.post(f"{base}/{dart.id}/events", data={"kind": "borrowed"}).status_code
    for part_id in (theirs.id, uuid4()):
        sent = {"kind": "lost"}
        assert 404 == tablet.post(f"{base}/{part_id}/events", data=sent).status_code
        assert 404 == tablet.post(f"{base}/{part_id}/return").status_code
    kept = [*_states(store, classroom), *_states(store, classroom, group=1)]
    assert [] == [event for state in kept for event in state.events]
