"""Visits and near-misses as rows."""

from __future__ import annotations

from datetime import UTC, datetime
from uuid import uuid4

from journal.store import groups, visits
from journal.store.engine import Store
from tests.factories.classrooms import Classroom

AT = datetime(2030, 3, 4, 10, 0, tzinfo=UTC)


def test_a_note_is_put_to_the_groups_own_visit_only(store: Store, classroom: Classroom) -> None:
    """True where the visit is the group's; False, and nothing changed, for any other."""
    first, second = classroom.group_ids
    with store.open_session(writing=True) as session:
        group = groups.get_group(session, first)
        visit = visits.add_visit(session, group, at=AT, reason="stalled", note="")
        told = [
            visits.set_visit_note(session, first, visit.id, "They look at the latch."),
            visits.set_visit_note(session, second, visit.id, "not theirs"),
            visits.set_visit_note(session, first, uuid4(), "nobody's"),
        ]
    with store.open_session(writing=False) as session:
        (kept,) = visits.visits_of_groups(session, classroom.group_ids)

    assert [True, False, False] == told
    assert "They look at the latch." == kept.note


def test_a_note_is_put_to_the_groups_own_near_miss_only(store: Store, classroom: Classroom) -> None:
    """As with a visit; and a visit of the group counts as having looked at it."""
    first, second = classroom.group_ids
    with store.open_session(writing=True) as session:
        group = groups.get_group(session, first)
        near_miss = visits.add_near_miss(session, group, at=AT, note="")
        told = [
            visits.set_near_miss_note(session, first, near_miss.id, "A rod slipped."),
            visits.set_near_miss_note(session, second, near_miss.id, "not theirs"),
            visits.set_near_miss_note(session, first, uuid4(), "nobody's"),
        ]
        visits.add_visit(session, group, at=AT, reason="near-miss", note="")
    with store.open_session(writing=False) as session:
        (kept,) = visits.near_misses_of_groups(session, classroom.group_ids)

    assert [True, False, False] == told
    assert ("A rod slipped.", AT) == (kept.note, kept.looked_at)
