"""Where each revision stands in the drawing of all revisions."""

from __future__ import annotations

from uuid import UUID

from journal.domain.revisions import Change, RevisionEntry
from journal.pictures.group_pictures import family_lines_of
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.services.revisions import make_revision
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom


def test_revisions_made_quickly_stand_beside_each_other(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Three within twenty seconds, two of them in the same instant: three places."""
    group_id, tablet = classroom.group_ids[0], classroom.tablets[0]
    with open_work(store, tablet, writing=False) as work:
        state = gather_group(work, get_group_context(work, group_id)).parts[0]
    parent: UUID = state.revisions[0].id
    for number, seconds in enumerate((200, 20, 0)):
        clock.move(seconds=seconds)
        change = Change(
            factor="rail_length",
            from_value="200",
            to_value=str(210 + number),
            unit="mm",
            reason="",
        )
        entry = RevisionEntry(
            part_id=state.part.id, parent_id=parent, changes=(change,), reason="It dips."
        )
        with open_work(store, tablet, clock=clock) as work:
            parent = make_revision(work, group_id, entry).id
    with open_work(store, tablet, writing=False) as work:
        lines = family_lines_of(gather_group(work, get_group_context(work, group_id)))

    places = [mark.order for mark in lines[0].marks]
    assert sorted(set(places)) == places
    assert 1 == sum(mark.newest for line in lines for mark in line.marks)
    # The first builds of all were kept in one tap and stand under each other still.
    assert {places[0]} == {line.marks[0].order for line in lines}
