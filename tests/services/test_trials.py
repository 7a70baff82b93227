"""Logging a trial: taken once, refused with a sentence, followed by what it means for the parts."""

from __future__ import annotations

import threading
from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import replace
from typing import Any
from uuid import UUID, uuid4

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.errors import Conflict, Invalid, JournalError, NotFound
from journal.domain.stages import Stage
from journal.domain.trials import Place, TrialState
from journal.records.work import open_work
from journal.services.trials import log_trial
from journal.store import classes, groups, revisions, sessions, stages, trials
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.sentences import raises
from tests.services.trial_entries import entry_of, log


def test_hit_gets_zone_points_and_the_sessions_conditions(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Zone and points are worked out from the place, distance comes from the session."""
    trial = log(store, clock, classroom.tablets[0], entry_of(classroom, clock))

    assert ("blaze", 8.0, Place.PANEL) == (trial.zone, trial.value, trial.place)
    assert classroom.challenge.distance_mm == trial.distance_mm
    assert classroom.session_id == trial.session_id
    assert {"pull": "full", "tilt": "mark 1", "hand": "right"} == trial.handling


@pytest.mark.parametrize(
    ("ending", "place", "zone", "value"),
    [
        ({"x_mm": 400.0, "y_mm": 0.0}, Place.WALL, None, 0.0),
        ({"x_mm": 300.0, "y_mm": 0.0}, Place.PANEL, None, 1.0),
        ({"x_mm": None, "y_mm": None, "place": Place.WALL}, Place.WALL, None, 0.0),
        ({"x_mm": None, "y_mm": None, "place": Place.NOWHERE}, Place.NOWHERE, None, 0.0),
        ({"x_mm": None, "y_mm": None, "place": Place.PANEL}, Place.PANEL, None, 1.0),
        (
            {"x_mm": None, "y_mm": None, "place": Place.PANEL, "zone": "bark"},
            Place.PANEL,
            "bark",
            4.0,
        ),
    ],
)
def test_place_decides_points(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    ending: dict[str, Any],
    place: Place,
    zone: str | None,
    value: float,
) -> None:
    """Wall, bare panel, nowhere and a named zone have their own points."""
    trial = log(store, clock, classroom.tablets[0], entry_of(classroom, clock, **ending))

    assert (place, zone, value) == (trial.place, trial.zone, trial.value)


def test_misfire_keeps_its_cause_and_no_value(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A misfire is no zero."""
    entry = entry_of(classroom, clock, x_mm=None, y_mm=None, misfire="stuck")

    trial = log(store, clock, classroom.tablets[0], entry)

    assert (TrialState.MISFIRE, "stuck", None) == (trial.state, trial.misfire, trial.value)


def test_replay_is_taken_once(store: Store, clock: StandingClock, classroom: Classroom) -> None:
    """The same id with the same content is the same trial, even after the session has ended."""
    entry, trial_id = entry_of(classroom, clock), uuid4()
    first = log(store, clock, classroom.tablets[0], entry, trial_id)
    with open_work(store, OPERATOR, clock=clock) as work:
        sessions.end_session(work.session, classroom.session_id, clock())
        revisions.set_aside(work.session, entry.revision_ids[0], clock())

    with open_work(store, classroom.tablets[0], clock=clock) as work:
        again = log_trial(work, trial_id, entry)

    assert (False, first) == (again.added, again.trial)


def test_same_id_with_other_content_is_a_conflict(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Two tablets that log one id see both contents."""
    entry, trial_id = entry_of(classroom, clock), uuid4()
    log(store, clock, classroom.tablets[0], entry, trial_id)

    with pytest.raises(Conflict) as caught:
        log(store, clock, classroom.tablets[0], replace(entry, x_mm=200.0), trial_id)

    assert (10.0, 200.0) == (caught.value.kept["x_mm"], caught.value.sent["x_mm"])


def test_another_groups_entry_is_not_shown_in_a_conflict(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Whoever sends a known id from another group learns nothing of what it holds."""
    trial_id = uuid4()
    log(store, clock, classroom.tablets[0], entry_of(classroom, clock), trial_id)
    other = entry_of(
        classroom,
        clock,
        revision_ids=classroom.revisions_for(1, 0),
        student_id=classroom.student_ids[1][0],
    )

    with pytest.raises(Conflict) as caught:
        log(store, clock, classroom.tablets[1], other, trial_id)

    assert caught.value.kept == {}


def test_thirty_senders_of_one_id_leave_one_trial(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Thirty threads that log one entry at the same time keep it once, all with the same answer."""
    entry, trial_id = entry_of(classroom, clock), uuid4()
    gate = threading.Barrier(30)
    answers: list[tuple[bool, UUID]] = []

    def send() -> None:
        gate.wait()
        with open_work(store, classroom.tablets[0], clock=clock) as work:
            kept = log_trial(work, trial_id, entry)
        answers.append((kept.added, kept.trial.id))

    threads = [threading.Thread(target=send) for _ in range(30)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert [(False, trial_id)] * 29 + [(True, trial_id)] == sorted(answers)
    with open_work(store, OPERATOR, writing=False) as work:
        kept = trials.trials_of_groups(work.session, classroom.group_ids, [classroom.session_id])
    assert len(kept) == 1


def test_entry_made_before_a_move_is_taken_and_one_after_it_is_not(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A moved child's waiting entries stay with the group in which they were made."""
    student_id = classroom.student_ids[1][3]
    before = entry_of(
        classroom, clock, student_id=student_id, revision_ids=classroom.revisions_for(1, 3)
    )
    with open_work(store, OPERATOR, clock=clock) as work:
        first = groups.get_group(work.session, classroom.group_ids[0])
        groups.leave_groups(work.session, student_id, clock())
        groups.join_group(work.session, first, [student_id], clock())
    after = replace(before, logged_at=clock())

    assert student_id == log(store, clock, classroom.tablets[1], before).student_id
    with raises(Invalid, match="not in this group"):
        log(store, clock, classroom.tablets[1], after)


def test_tablet_of_another_group_finds_no_such_revision(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A tablet logs for its own group only: the other group's things are not its own."""
    with pytest.raises(Invalid) as caught:
        log(store, clock, classroom.tablets[1], entry_of(classroom, clock))

    assert "student_id" in caught.value.by_field()


def test_teacher_logs_for_a_group_of_the_own_class_only(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The group is that of the shared part; another teacher's class is not found."""
    entry = entry_of(classroom, clock)
    stranger = replace(classroom.teacher, teacher_id=uuid4())

    assert classroom.group_ids[0] == log(store, clock, classroom.teacher, entry).group_id
    with pytest.raises(NotFound):
        log(store, clock, stranger, entry)


def test_trial_moves_the_group_to_the_test_stage_once(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Arriving is noted with the first trial, staying is not."""
    for _ in range(2):
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock))

    with open_work(store, OPERATOR, writing=False) as work:
        walked = stages.steps_of_groups(work.session, classroom.group_ids, classroom.challenge_id)
    assert [Stage.TEST] == [step.stage for step in walked[classroom.group_ids[0]]]


def test_each_trial_is_news_for_the_overview_and_a_replay_is_not(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The class's version counts what could be shown."""
    entry, trial_id = entry_of(classroom, clock), uuid4()
    for _ in range(3):
        log(store, clock, classroom.tablets[0], entry, trial_id)

    with open_work(store, OPERATOR, writing=False) as work:
        assert classes.find_version(work.session, classroom.class_id) == 1


def test_table_from_elsewhere_may_lack_student_and_own_part(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """An import at the terminal knows the shared part only."""
    entry = entry_of(
        classroom, clock, student_id=None, revision_ids=(classroom.shared_revision_ids[0],)
    )

    assert log(store, clock, OPERATOR, entry).student_id is None


def test_usual_trial_takes_few_statements(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    count_queries: Callable[[], AbstractContextManager[list[str]]],
) -> None:
    """One that reads all of it, three that write, however many trials there are."""
    log(store, clock, classroom.tablets[0], entry_of(classroom, clock))
    with count_queries() as statements:
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock))

    assert len(statements) == 4, "\n".join(statements)


def test_nothing_else_is_raised_than_errors_for_people(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Signs that no text should hold end as a sentence, not as a fault."""
    for strange in ("\x00", "\ud800", "x" * 100_000, ""):
        for changes in (
            {"handling": {"pull": strange}},
            {"handling": {strange: "full"}},
            {"misfire": strange, "x_mm": None, "y_mm": None},
            {"zone": strange},
        ):
            with pytest.raises(JournalError):
                log(store, clock, classroom.tablets[0], entry_of(classroom, clock, **changes))
