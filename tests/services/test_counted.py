"""Counted attempts and their goal: excused is no zero, unequal groups go by the mean."""

from __future__ import annotations

from dataclasses import replace
from uuid import uuid4

import pytest

from journal.domain.challenge_documents import with_changes
from journal.domain.errors import NotAllowed, NotFound
from journal.domain.goals import GoalKind
from journal.domain.outcomes import near_is_better
from journal.domain.trials import Place, TrialKind, TrialState
from journal.findings.counted_scores import count_group, goal_for, show_score
from journal.records.group_records import gather_class
from journal.records.work import open_work
from journal.screens.desk.counted import CountedPage, prepare_counted
from journal.services.goals import choose_goal
from journal.services.sessions import set_absent
from journal.store import classes
from journal.store.engine import Store
from tests.conftest import CountQueries, StandingClock
from tests.factories.classrooms import Classroom
from tests.services.trial_entries import bridge_entry, entry_of, log, make_bridge_room

POINTS = {8: "blaze", 4: "bark", 2: "trunk"}


def count(
    store: Store, clock: StandingClock, room: Classroom, group: int, *worth: tuple[int, int]
) -> None:
    """Log counted attempts of a group: pairs of student and points."""
    for student, points in worth:
        practised = entry_of(
            room,
            clock,
            revision_ids=room.revisions_for(group, student),
            student_id=room.student_ids[group][student],
        )
        log(store, clock, room.tablets[group], practised)
        entry = replace(
            practised,
            kind=TrialKind.COUNTED,
            x_mm=None,
            y_mm=None,
            place=Place.PANEL if points else Place.WALL,
            zone=POINTS.get(points),
        )
        log(store, clock, room.tablets[group], entry)


def look(store: Store, clock: StandingClock, room: Classroom) -> CountedPage:
    """Return the teacher's page."""
    with open_work(store, room.teacher, writing=False, clock=clock) as work:
        return prepare_counted(work, room.class_id)


def agree(store: Store, clock: StandingClock, room: Classroom, entered: dict[str, str]) -> None:
    """Choose a goal as the teacher."""
    with open_work(store, room.teacher, clock=clock) as work:
        choose_goal(work, room.class_id, entered)


def test_groups_of_unequal_size_stand_side_by_side_by_the_mean(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Groups of 3 and 4 that score 2 each time share a place although the sums are 6 and 8.

    Common practice, no source.
    """
    count(store, clock, classroom, 0, (0, 2), (1, 2), (2, 2))
    count(store, clock, classroom, 1, (0, 2), (1, 2), (2, 2), (3, 2))
    page = look(store, clock, classroom)
    assert [("6", "2.00"), ("8", "2.00")] == [(group.sum, group.mean) for group in page.groups]
    assert ["1, shared", "1, shared"] == [group.place for group in page.groups]
    assert "by the mean of an attempt" in " ".join(page.notes)
    assert "Attempts are still left: places may change." in page.notes


def test_what_is_excused_is_no_zero(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """An absent member lowers nothing, and an attempt that was set aside does not count."""
    count(store, clock, classroom, 0, (0, 8), (1, 4))
    with open_work(store, classroom.teacher, clock=clock) as work:
        set_absent(work, classroom.session_id, [classroom.student_ids[0][2]])
    with open_work(store, classroom.teacher, writing=False, clock=clock) as work:
        record = gather_class(work, classes.get_class(work.session, classroom.class_id))[0]
    counted = [trial for trial in record.trials if trial.kind is TrialKind.COUNTED]
    aside = tuple(
        replace(trial, state=TrialState.VOID) if trial is counted[1] else trial
        for trial in record.trials
    )
    page = look(store, clock, classroom)
    assert ("12", "6.00") == (page.groups[0].sum, page.groups[0].mean)
    assert "absent, 3 excused" == page.groups[0].members[2].note
    assert 0 == page.groups[0].members[2].left
    found = count_group(replace(record, trials=aside))
    assert (8.0, 1, 1) == (found.mean, found.score.attempts, found.score.excused)


def test_before_the_first_attempt_nobody_has_a_place(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Empty figures, not zeros, and every attempt still left."""
    page = look(store, clock, classroom)
    assert {("", "", "")} == {(group.sum, group.mean, group.place) for group in page.groups}
    assert {3} == {member.left for group in page.groups for member in group.members}
    assert "No counted attempt has been made yet." in page.notes
    assert "" == page.form.late


def test_a_goal_chosen_late_is_said_to_be_late(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """It may be changed, but it was not agreed before the first counted attempt."""
    count(store, clock, classroom, 0, (0, 8))
    assert "not agreed before" in look(store, clock, classroom).form.late


def test_a_set_of_zones_says_what_is_still_to_hit(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Bark twice and blaze once: one bark and the blaze leave one bark."""
    agree(
        store,
        clock,
        classroom,
        {
            "goal.kind": "attempts_to_complete",
            "goal.zones.bark.times": "2",
            "goal.zones.blaze.times": "1",
        },
    )
    count(store, clock, classroom, 0, (0, 4), (1, 8))
    count(store, clock, classroom, 1, (0, 4), (1, 8), (2, 4))
    first, second = look(store, clock, classroom).groups
    assert ("", "Bark", "") == (first.score, first.missing, first.place)
    assert ("3", "", "1") == (second.score, second.missing, second.place)


def test_a_classes_own_table_counts(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The first bark gives 5, later ones 1, anything else nothing; gaps in the form close."""
    agree(
        store,
        clock,
        classroom,
        {
            "goal.kind": "class_table",
            "goal.table[1].place": "bark",
            "goal.table[1].from": "1",
            "goal.table[1].to": "1",
            "goal.table[1].points": "5",
            "goal.table[2].place": "bark",
            "goal.table[4].place": "bark",
            "goal.table[4].from": "2",
            "goal.table[4].points": "1",
        },
    )
    count(store, clock, classroom, 0, (0, 4), (1, 4), (2, 8))
    page = look(store, clock, classroom)
    assert "6" == page.groups[0].score
    assert ("Bark, hit 1: 5 points", "Bark, hit 2 and all later ones: 1 point") == page.table
    assert "2" == dict(page.form.rows[1])["goal.table[2].from"]


def test_a_loaded_bridge_counts_its_grams(store: Store, clock: StandingClock) -> None:
    """What is a quantity has no zones to complete, and its table goes by the quantity."""
    room = make_bridge_room(store, clock)
    log(store, clock, room.tablets[0], bridge_entry(room, clock, kind=TrialKind.COUNTED))
    agree(
        store,
        clock,
        room,
        {"goal.kind": "class_table", "goal.table[1].from": "300", "goal.table[1].points": "7"},
    )
    page = look(store, clock, room)
    assert ("340", "7") == (page.groups[0].sum, page.groups[0].score)
    assert ("300 g and more: 7 points",) == page.table
    assert ((), ()) == (page.form.zones, page.form.places)
    assert GoalKind.COMPLETE_SET not in dict(page.form.kinds)


def test_near_a_value_is_better_when_small(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Where nearness is the aim, attempts are told by how far off they were."""
    challenge = with_changes(classroom.challenge, goal={"kind": "mean_per_attempt"})
    near = replace(challenge, outcome=replace(challenge.outcome, direction=near_is_better(5.0)))
    assert goal_for(near).low_is_better
    count(store, clock, classroom, 0, (0, 8), (1, 4))
    with open_work(store, classroom.teacher, writing=False, clock=clock) as work:
        record = gather_class(work, classes.get_class(work.session, classroom.class_id))[0]
    found = count_group(replace(record, context=replace(record.context, challenge=near)))
    assert 2.0 == found.mean


def test_only_the_teacher_of_the_class_sees_and_chooses(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A tablet is told that the page is the teacher's, another teacher that there is no class."""
    other = replace(classroom.teacher, teacher_id=uuid4())
    for actor, error in ((classroom.tablets[0], NotAllowed), (other, NotFound)):
        with open_work(store, actor, clock=clock) as work, pytest.raises(error):
            prepare_counted(work, classroom.class_id)
        with open_work(store, actor, clock=clock) as work, pytest.raises(error):
            choose_goal(work, classroom.class_id, {"goal.kind": "most_points"})


def test_the_page_takes_as_many_queries_for_many_attempts(
    store: Store, clock: StandingClock, classroom: Classroom, count_queries: CountQueries
) -> None:
    """A fixed number, whatever was logged."""
    count(store, clock, classroom, 0, (0, 8))
    with count_queries() as few:
        look(store, clock, classroom)
    count(store, clock, classroom, 0, (1, 4), (2, 2), (0, 8))
    count(store, clock, classroom, 1, (1, 4))
    with count_queries() as many:
        look(store, clock, classroom)
    assert len(few) == len(many)


def test_scores_are_shown_plainly() -> None:
    """At most two decimals, never an exponent; nothing where nothing is known."""
    assert ["", "0", "2.67", "1234567"] == [show_score(n) for n in (None, 0.0, 8 / 3, 1234567.0)]
