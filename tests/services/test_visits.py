"""Visits and near-misses: kept with a note, news for the overview, the teacher's alone."""

from __future__ import annotations

from uuid import uuid4

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.errors import Invalid, NotAllowed, NotFound
from journal.domain.ladders import ClimbEnd, Rung
from journal.domain.sessions import LaneState
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.services.ladders import start_climb
from journal.services.visits import (
    LONGEST_NOTE,
    log_near_miss,
    log_visit,
    name_group,
    note_near_miss,
    note_visit,
)
from journal.store import classes, groups, ladders, sessions, visits
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.sentences import raises


def test_a_visit_keeps_when_and_why(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The reason is cut at 200 letters, the note loses the spaces around it."""
    group_id = classroom.group_ids[0]
    with open_work(store, classroom.teacher, clock=clock) as work:
        at = clock.time
        kept = log_visit(work, group_id, reason="x" * 250, note="  Measure each one. ")
        assert (kept,) == visits.visits_of_groups(work.session, [group_id])
        assert () == visits.visits_of_groups(work.session, classroom.group_ids[1:])
    assert ("x" * 200, "Measure each one.") == (kept.reason, kept.note)
    assert 0 < (kept.visited_at - at).total_seconds() < 1


def test_a_note_is_put_to_its_visit_again(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The later words stand; another visit keeps its own; one that is none is not found."""
    group_id = classroom.group_ids[0]
    with open_work(store, classroom.teacher, clock=clock) as work:
        first, second = log_visit(work, group_id, note="First."), log_visit(work, group_id)
        note_visit(work, group_id, second.id, "Second.")
        note_visit(work, group_id, second.id, " Second again. ")
        notes = [one.note for one in visits.visits_of_groups(work.session, [group_id])]
        with raises(NotFound, match="no such visit"):
            note_visit(work, group_id, uuid4(), "Nowhere.")
        with raises(NotFound, match="no such near-miss"):
            note_near_miss(work, group_id, first.id, "A visit is none.")
    assert ["First.", "Second again."] == notes


def test_a_note_has_an_end(store: Store, clock: StandingClock, classroom: Classroom) -> None:
    """600 characters are kept, one more is told with both numbers and nothing is kept."""
    group_id = classroom.group_ids[0]
    with open_work(store, classroom.teacher, clock=clock) as work:
        kept = log_visit(work, group_id, note="n" * LONGEST_NOTE)
        assert 600 == len(kept.note)
        for verb in (
            lambda: log_visit(work, group_id, note="n" * 601),
            lambda: note_visit(work, group_id, kept.id, "n" * 601),
            lambda: log_near_miss(work, group_id, "n" * 601),
        ):
            with raises(Invalid, match="up to 600 characters, this one has 601") as caught:
                verb()
            assert ["note"] == list(caught.value.by_field())
        assert (kept,) == visits.visits_of_groups(work.session, [group_id])
        assert () == visits.near_misses_of_groups(work.session, [group_id])


def test_a_near_miss_closes_the_lane_and_keeps_its_note(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Also where no session runs any more, it is kept."""
    group_id = classroom.group_ids[0]
    with open_work(store, classroom.teacher, clock=clock) as work:
        running = sessions.find_running(work.session, classroom.class_id)
        assert running is not None
        assert LaneState.OPEN is running.lane
        first = log_near_miss(work, group_id)
        running = sessions.find_running(work.session, classroom.class_id)
        assert running is not None
        assert LaneState.CLOSED is running.lane
        note_near_miss(work, group_id, first.id, " A dart slid under the rope. ")
        sessions.end_session(work.session, classroom.session_id, clock())
        log_near_miss(work, group_id, "In the hall.")
        found = visits.near_misses_of_groups(work.session, [group_id])
    assert ["A dart slid under the rope.", "In the hall."] == [one.note for one in found]


def test_a_visit_ends_the_climb_that_called_for_it_and_no_other(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A group that is still thinking stays on its rung."""
    ends = []
    for group, rung in enumerate((Rung.COMPARE, Rung.ASK_TEACHER)):
        with open_work(store, classroom.tablets[group], clock=clock) as work:
            climb = start_climb(work, classroom.group_ids[group])
            ladders.set_rung(work.session, climb.id, rung, clock())
        with open_work(store, classroom.teacher, clock=clock) as work:
            log_visit(work, classroom.group_ids[group])
            context = get_group_context(work, classroom.group_ids[group])
            ends.append(gather_group(work, context).climbs[-1].ended_by)
    assert [None, ClimbEnd.TEACHER_CAME] == ends


def test_each_of_them_is_news_for_the_overview(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A second screen of the teacher's shows it at once."""
    group_id = classroom.group_ids[0]
    with open_work(store, classroom.teacher, clock=clock) as work:
        sessions.end_session(work.session, classroom.session_id, clock())
        seen = [classes.find_version(work.session, classroom.class_id)]
        visit = log_visit(work, group_id)
        seen.append(classes.find_version(work.session, classroom.class_id))
        note_visit(work, group_id, visit.id, "Measure.")
        seen.append(classes.find_version(work.session, classroom.class_id))
        miss = log_near_miss(work, group_id)
        seen.append(classes.find_version(work.session, classroom.class_id))
        note_near_miss(work, group_id, miss.id, "Rope.")
        seen.append(classes.find_version(work.session, classroom.class_id))
    assert [0, 1, 2, 3, 4] == [version - (seen[0] or 0) for version in seen if version is not None]


def test_they_are_the_own_teachers(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Neither a tablet nor another teacher keeps or notes one, nor learns a group's name."""
    group_id = classroom.group_ids[0]
    with open_work(store, OPERATOR, clock=clock) as work:
        other = make_classroom(work.session, clock())
    with open_work(store, classroom.teacher, clock=clock) as work:
        visit, miss = log_visit(work, group_id), log_near_miss(work, group_id)
        assert groups.get_group(work.session, group_id).name == name_group(work, group_id)
    for actor, error in ((classroom.tablets[0], NotAllowed), (other.teacher, NotFound)):
        for verb in (
            lambda work: log_visit(work, group_id),
            lambda work: note_visit(work, group_id, visit.id, "x"),
            lambda work: log_near_miss(work, group_id),
            lambda work: note_near_miss(work, group_id, miss.id, "x"),
            lambda work: name_group(work, group_id),
        ):
            with open_work(store, actor, clock=clock) as work, pytest.raises(error):
                verb(work)
