"""Revisions, first builds and climbs made at once by a group with two tablets."""

from __future__ import annotations

from journal.domain.ladders import Climb
from journal.domain.revisions import Change, Revision, RevisionEntry
from journal.records.work import open_work
from journal.services.ladders import start_climb
from journal.services.revisions import make_revision
from journal.store import revisions
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.races.together import PEOPLE, all_at_once


def test_each_of_two_revisions_at_once_gets_its_number(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Nobody's revision is lost, and no number is given twice."""
    first_id = classroom.shared_revision_ids[0]
    with store.open_session(writing=False) as session:
        part_id = revisions.get_revision(session, first_id).part_id

    def build(server: Store, person: int) -> Revision:
        change = Change(factor="bands", from_value="1", to_value=str(person % 4 + 2), unit="bands")
        entry = RevisionEntry(
            part_id=part_id, parent_id=first_id, changes=(change,), reason="more pull"
        )
        with open_work(server, classroom.tablets[0], clock=clock) as work:
            return make_revision(work, classroom.group_ids[0], entry)

    made, refused = all_at_once(store, build)
    with store.open_session(writing=False) as session:
        kept = revisions.revisions_of_parts(session, [part_id])

    assert (PEOPLE, []) == (len(made), list(refused))
    assert list(range(1, PEOPLE + 2)) == [one.number for one in kept]
    assert {one.id for one in made} == {one.id for one in kept if one.number > 1}


def test_a_group_climbs_one_ladder(
    store: Store, classroom: Classroom, clock: StandingClock
) -> None:
    """Whoever taps, the group is on the same climb."""

    def climb(server: Store, _person: int) -> Climb:
        with open_work(server, classroom.tablets[0], clock=clock) as work:
            return start_climb(work, classroom.group_ids[0])

    climbs, refused = all_at_once(store, climb)

    assert (PEOPLE, []) == (len(climbs), list(refused))
    assert 1 == len({one.id for one in climbs})
