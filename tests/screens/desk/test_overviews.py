"""The class overview: current, in order, and as cheap for twelve groups as for two."""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID, uuid4

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.errors import NotAllowed, NotFound
from journal.domain.trials import Place, TrialEntry, TrialKind
from journal.records.work import open_work
from journal.screens.desk.findings import prepare_findings
from journal.screens.desk.overviews import Shown, find_overview_version, prepare_overview
from journal.services.sessions import end_session, start_session
from journal.services.trials import log_trial
from journal.services.visits import log_near_miss, log_visit, note_near_miss, note_visit
from journal.store.engine import Store
from tests.conftest import CountQueries, StandingClock
from tests.factories.classrooms import Classroom, make_classroom


def log(
    store: Store,
    clock: StandingClock,
    room: Classroom,
    group: int,
    *,
    times: int,
    misfire: str | None = None,
) -> None:
    """Log the same trial some times by the group's first student."""
    for _ in range(times):
        entry = TrialEntry(
            revision_ids=room.revisions_for(group, 0),
            kind=TrialKind.PRACTICE,
            logged_at=clock(),
            student_id=room.student_ids[group][0],
            place=None if misfire else Place.PANEL,
            x_mm=None if misfire else 10.0,
            y_mm=None if misfire else 300.0,
            amount=None if misfire else 4,
            misfire=misfire,
        )
        with open_work(store, room.tablets[group], clock=clock) as work:
            log_trial(work, uuid4(), entry)


def order_of(page_needs: Sequence[object]) -> list[UUID]:
    """Return the groups in the order of the list."""
    return [need.group_id for need in page_needs]  # type: ignore[attr-defined]


def test_a_trial_changes_the_version_and_the_row(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """What a tablet logs is in the very next answer."""
    with open_work(store, classroom.teacher, writing=False, clock=clock) as work:
        before = find_overview_version(work, classroom.class_id, Shown())
    log(store, clock, classroom, 0, times=1)
    with open_work(store, classroom.teacher, writing=False, clock=clock) as work:
        after = find_overview_version(work, classroom.class_id, Shown())
        page = prepare_overview(work, classroom.class_id)
    assert before != after
    assert "Launcher 1, first build: 1 trial." == page.rows[0].now
    assert "Test" == page.rows[0].stage


def test_misfires_call_the_teacher_until_the_visit(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Four of the last nine put the group first; a visit answers them."""
    log(store, clock, classroom, 1, times=4, misfire="stuck")
    with open_work(store, classroom.teacher, clock=clock) as work:
        first = prepare_overview(work, classroom.class_id).needs[0]
        log_visit(work, classroom.group_ids[1], reason=first.reason)
        after = prepare_overview(work, classroom.class_id)
    assert classroom.group_ids[1] == first.group_id
    assert "4 misfires" in first.reason
    assert classroom.group_ids[0] == after.needs[0].group_id
    assert 0 == after.rows[1].minutes_since_visit


def test_a_near_miss_comes_first_and_keeps_its_note(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """One tap, then a note; the order that a screen shows does not hold it back."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        shown = prepare_overview(work, classroom.class_id)
        kept = log_near_miss(work, classroom.group_ids[1])
        note_near_miss(work, classroom.group_ids[1], kept.id, "A dart slid under the rope.")
        now = Shown(group_ids=tuple(order_of(shown.needs)), since=clock())
        page = prepare_overview(work, classroom.class_id, now)
    assert ("near_miss", classroom.group_ids[1]) == (
        page.needs[0].kind,
        page.needs[0].group_id,
    )


def test_a_note_belongs_to_a_visit_of_that_group(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The note of another group's visit is not found."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        visit = log_visit(work, classroom.group_ids[0])
        note_visit(work, classroom.group_ids[0], visit.id, "Measure where it hits.")
        with pytest.raises(NotFound):
            note_visit(work, classroom.group_ids[1], visit.id, "Not theirs.")


def test_a_tablet_does_not_see_the_class(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The overview and the visits are the teacher's."""
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        with pytest.raises(NotAllowed):
            prepare_overview(work, classroom.class_id)
        with pytest.raises(NotAllowed):
            log_visit(work, classroom.group_ids[0])


def test_as_many_queries_for_twelve_groups_as_for_two(
    store: Store, clock: StandingClock, classroom: Classroom, count_queries: CountQueries
) -> None:
    """The number of groups and of trials does not matter."""
    names = [[f"{name}{number}" for name in ("A", "B", "C")] for number in range(12)]
    with open_work(store, OPERATOR, clock=clock) as work:
        large = make_classroom(work.session, clock(), nicknames=names)
    for room in (classroom, large):
        for group in range(len(room.group_ids)):
            log(store, clock, room, group, times=2)
    counts = []
    for room in (classroom, large):
        with open_work(store, room.teacher, writing=False, clock=clock) as work:
            with count_queries() as counted:
                prepare_overview(work, room.class_id)
            counts.append(len(counted))
    assert counts[0] == counts[1]
    assert counts[0] <= 21


def test_a_visit_of_an_earlier_session_is_none_of_this_one(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Yesterday's visit is no visit "27 min ago"; the page of the group says the same."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        log_visit(work, classroom.group_ids[0])
        end_session(work, classroom.session_id)
    clock.move(days=1)
    with open_work(store, classroom.teacher, clock=clock) as work:
        start_session(
            work,
            classroom.class_id,
            challenge_id=classroom.challenge_id,
            distance="2.5 m",
            lanes="1",
        )
    clock.move(minutes=27)
    with open_work(store, classroom.teacher, clock=clock) as work:
        page = prepare_overview(work, classroom.class_id)
        head = prepare_findings(work, classroom.group_ids[0]).head
    need = next(one for one in page.needs if one.group_id == classroom.group_ids[0])
    assert "Not visited yet, 27 min into the session." == need.reason == head.reason
    assert (None, None) == (need.minutes_since_visit, page.rows[0].minutes_since_visit)
    assert "Not visited yet" == head.since_visit


def test_outside_a_session_nobody_is_to_be_visited(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The list is empty, the groups stand there, and the last visit has its day."""
    with open_work(store, classroom.teacher, clock=clock) as work:
        log_visit(work, classroom.group_ids[0])
        end_session(work, classroom.session_id)
    clock.move(days=1)
    with open_work(store, classroom.teacher, clock=clock) as work:
        page = prepare_overview(work, classroom.class_id)
        heads = [prepare_findings(work, one).head for one in classroom.group_ids]
    assert ((), 2) == (page.needs, len(page.rows))
    assert [("Last visit 4 March 2030", ""), ("Not visited yet", "")] == [
        (head.since_visit, head.reason) for head in heads
    ]


def test_a_visited_group_is_not_told_as_never_visited(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Both pages tell the minutes since the visit, and for the other group the session's."""
    clock.move(minutes=5)
    with open_work(store, classroom.teacher, clock=clock) as work:
        log_visit(work, classroom.group_ids[0])
    clock.move(minutes=12)
    with open_work(store, classroom.teacher, clock=clock) as work:
        page = prepare_overview(work, classroom.class_id)
        heads = [prepare_findings(work, group_id).head for group_id in classroom.group_ids]
    expected = ["Last visit 12 min ago.", "Not visited yet, 17 min into the session."]
    told = {need.group_id: need.reason for need in page.needs}
    assert expected == [told[group_id] for group_id in classroom.group_ids]
    assert expected == [head.reason for head in heads]
    assert ["12 min since your visit", "Not visited yet"] == [head.since_visit for head in heads]
    assert [12, None] == [row.minutes_since_visit for row in page.rows]
    # Who waits longest comes first.
    assert list(reversed(classroom.group_ids)) == order_of(page.needs)
