"""What a trial stands on, read in one statement: the same as what is read in several."""

from __future__ import annotations

from datetime import timedelta
from uuid import uuid4

from journal.domain.part_states import read_part_states
from journal.domain.parts import PartEvent, PartEventKind
from journal.domain.revisions import Change, MaterialAmount, RevisionEntry
from journal.store import groups, parts, revisions, trial_grounds
from journal.store.engine import Store
from tests.conftest import CountQueries, StandingClock
from tests.factories.classrooms import Classroom


def test_ground_is_what_the_tables_say(
    store: Store, clock: StandingClock, classroom: Classroom, count_queries: CountQueries
) -> None:
    """Members, one of whom has left, and the parts with all revisions and events, in one query."""
    used = classroom.revisions_for(0, 0)
    with store.open_session(writing=True) as session:
        groups.leave_groups(session, classroom.student_ids[0][2], clock())
        part = trial_grounds.parts_of_revisions(session, used[:1])[0]
        entry = RevisionEntry(
            part_id=part.id,
            parent_id=used[0],
            changes=(Change(factor="bands", from_value="2", to_value="3", reason="it “flew” low"),),
            materials=(MaterialAmount(material="band", amount=1.5),),
            reason="Más fuerza; 50 %",
            maker_ids=classroom.student_ids[0][:2],
        )
        later = clock() + timedelta(microseconds=250)
        revisions.add_revision(session, part, entry, session_id=None, made_at=later)
        revisions.set_aside(session, used[0], clock())
        for kind in (PartEventKind.BORROWED, PartEventKind.LOST, PartEventKind.MENDED):
            borrower = classroom.group_ids[1] if kind is PartEventKind.BORROWED else None
            event = PartEvent(
                id=uuid4(), part_id=part.id, kind=kind, at=clock(), borrower_group_id=borrower
            )
            parts.add_event(session, part.school_id, event)

    with store.open_session(writing=False) as session:
        group = groups.get_group(session, classroom.group_ids[0])
        of_trial = trial_grounds.parts_of_revisions(session, used)
        part_ids = [part.id for part in of_trial]
        expected = read_part_states(
            classroom.challenge,
            of_trial,
            revisions.revisions_of_parts(session, part_ids),
            parts.events_of_parts(session, part_ids),
        )
        with count_queries() as statements:
            ground = trial_grounds.get_ground(session, group.id, clock(), used)

    assert len(statements) == 1
    assert sorted(map(repr, expected)) == sorted(map(repr, ground.parts))
    assert [2, 1] == [len(state.revisions) for state in ground.parts]
    assert group == ground.group


def test_ground_without_revisions_has_no_parts(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Nothing was asked for, nothing is read; an unknown revision is no part either."""
    with store.open_session(writing=False) as session:
        for asked in ((), (uuid4(),)):
            ground = trial_grounds.get_ground(session, classroom.group_ids[0], clock(), asked)
            assert () == ground.parts
