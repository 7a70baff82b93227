"""Putting entries right: the group takes the last one back, the teacher corrects with a reason."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from uuid import uuid4

import pytest

from journal.domain.actors import NOBODY
from journal.domain.errors import Invalid, NotAllowed, NotFound, Refused, SignedOut
from journal.domain.trial_corrections import CorrectionEntry
from journal.domain.trials import Place, Trial, TrialKind, TrialState
from journal.records.work import open_work
from journal.services.corrections import correct_trial, strike_last
from journal.store import classes, trials
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.sentences import raises
from tests.services.trial_entries import bridge_entry, entry_of, log, make_bridge_room


def correction_of(trial: Trial, **changes: Any) -> CorrectionEntry:
    """Return a correction that leaves everything as it is but for the changes."""
    same = CorrectionEntry(
        reason="The tablet was held by somebody else.",
        state=trial.state,
        kind=trial.kind,
        student_id=trial.student_id,
        place=trial.place,
        zone=trial.zone,
        x_mm=trial.x_mm,
        y_mm=trial.y_mm,
        value=trial.value,
        amount=trial.amount,
        misfire=trial.misfire,
    )
    return replace(same, **changes)


@pytest.fixture
def trial(store: Store, clock: StandingClock, classroom: Classroom) -> Trial:
    """Return a practice trial of the first group on the blaze."""
    return log(store, clock, classroom.tablets[0], entry_of(classroom, clock, amount=4.0))


def correct(
    store: Store, clock: StandingClock, room: Classroom, trial: Trial, **changes: Any
) -> Trial:
    """Correct a trial as the teacher."""
    with open_work(store, room.teacher, clock=clock) as work:
        return correct_trial(work, trial.id, correction_of(trial, **changes))


def test_last_entry_is_kept_as_struck(
    store: Store, clock: StandingClock, classroom: Classroom, trial: Trial
) -> None:
    """What is taken back stays in the data with a line about it, and a second tap is harmless."""
    for _ in range(2):
        with open_work(store, classroom.tablets[0], clock=clock) as work:
            struck = strike_last(work, trial.group_id, trial.id)

    assert TrialState.STRUCK is struck.state
    with open_work(store, classroom.tablets[0], writing=False) as work:
        lines = trials.corrections_of_trials(work.session, [trial.id])
    assert [("state", "measured", "struck")] == [(line.field, line.old, line.new) for line in lines]


def test_earlier_entry_is_not_taken_back(
    store: Store, clock: StandingClock, classroom: Classroom, trial: Trial
) -> None:
    """Once the next one is logged, only the teacher puts the earlier one right."""
    log(store, clock, classroom.tablets[0], entry_of(classroom, clock))

    with (
        raises(Refused, match="Another trial came after it"),
        open_work(store, classroom.tablets[0], clock=clock) as work,
    ):
        strike_last(work, trial.group_id, trial.id)


def test_counted_trial_is_struck_by_the_teacher_only(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A group does not take a counted attempt back."""
    entry = entry_of(classroom, clock, kind=TrialKind.COUNTED)
    counted = log(store, clock, classroom.tablets[0], entry)

    with (
        raises(NotAllowed, match="counted trial stays"),
        open_work(store, classroom.tablets[0], clock=clock) as work,
    ):
        strike_last(work, counted.group_id, counted.id)
    with open_work(store, classroom.teacher, clock=clock) as work:
        assert TrialState.STRUCK is strike_last(work, counted.group_id, counted.id).state


def test_another_groups_trial_is_not_found(
    store: Store, clock: StandingClock, classroom: Classroom, trial: Trial
) -> None:
    """Neither by its own group's address nor under the tablet's group."""
    for group_id in classroom.group_ids:
        with (
            pytest.raises(NotFound),
            open_work(store, classroom.tablets[1], clock=clock) as work,
        ):
            strike_last(work, group_id, trial.id)


def test_taken_back_test_leaves_the_bridge_whole(store: Store, clock: StandingClock) -> None:
    """A mistyped load can be entered again at once."""
    room = make_bridge_room(store, clock)
    first = log(store, clock, room.tablets[0], bridge_entry(room, clock))
    with open_work(store, room.tablets[0], clock=clock) as work:
        strike_last(work, first.group_id, first.id)

    assert 430.0 == log(store, clock, room.tablets[0], bridge_entry(room, clock, value=430.0)).value


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"x_mm": 300.0, "y_mm": 0.0}, {"zone": None, "value": 1.0, "place": Place.PANEL}),
        ({"place": Place.WALL, "zone": None}, {"value": 0.0, "x_mm": None, "y_mm": None}),
        ({"zone": "bark"}, {"value": 4.0, "zone": "bark", "x_mm": None}),
        ({"amount": 6.0}, {"amount": 6.0, "x_mm": 10.0, "value": 8.0}),
        ({"kind": TrialKind.COUNTED}, {"kind": TrialKind.COUNTED, "value": 8.0}),
        ({"state": TrialState.VOID}, {"state": TrialState.VOID, "value": 8.0, "x_mm": 10.0}),
        (
            {"state": TrialState.MISFIRE, "misfire": "stuck"},
            {"state": TrialState.MISFIRE, "value": None, "x_mm": None, "place": None},
        ),
    ],
)
def test_teacher_puts_each_field_right(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    trial: Trial,
    changes: dict[str, Any],
    expected: dict[str, Any],
) -> None:
    """Points follow from the place, also when it is corrected, and what is kept is what is told."""
    changed = correct(store, clock, classroom, trial, **changes)

    assert expected == {name: getattr(changed, name) for name in expected}
    with open_work(store, classroom.teacher, writing=False) as work:
        assert changed == trials.get_trial(work.session, trial.id)


def test_old_value_is_kept_with_reason_and_teacher(
    store: Store, clock: StandingClock, classroom: Classroom, trial: Trial
) -> None:
    """A line for each field that changed: who, when, old, new, why."""
    other = classroom.student_ids[0][1]
    correct(store, clock, classroom, trial, student_id=other, amount=None)

    with open_work(store, classroom.teacher, writing=False) as work:
        lines = trials.corrections_of_trials(work.session, [trial.id])
    assert {
        ("student_id", str(trial.student_id), str(other)),
        ("amount", "4", ""),
    } == {(line.field, line.old, line.new) for line in lines}
    assert {classroom.teacher_id} == {line.teacher_id for line in lines}
    assert {"The tablet was held by somebody else."} == {line.reason for line in lines}


def test_misfire_can_become_a_hit(store: Store, clock: StandingClock, classroom: Classroom) -> None:
    """It did fly after all: place and points come, the cause goes."""
    entry = entry_of(classroom, clock, x_mm=None, y_mm=None, misfire="stuck")
    misfire = log(store, clock, classroom.tablets[0], entry)

    changed = correct(
        store, clock, classroom, misfire,
        state=TrialState.MEASURED, place=Place.PANEL, zone="trunk", misfire=None,
    )  # fmt: skip

    assert (2.0, None) == (changed.value, changed.misfire)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"reason": "  "}, "reason"),
        ({"reason": "x" * 301}, "reason"),
        ({}, "reason"),
        ({"student_id": uuid4()}, "student_id"),
        ({"amount": -1.0}, "amount"),
        ({"x_mm": 5000.0}, "place"),
        ({"state": TrialState.MISFIRE, "misfire": None}, "misfire"),
        ({"state": TrialState.STRUCK}, "state"),
    ],
)
def test_correction_that_cannot_be_is_told_by_field(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    trial: Trial,
    changes: dict[str, Any],
    field: str,
) -> None:
    """Without a reason, or without a change, nothing is corrected."""
    with pytest.raises(Invalid) as caught:
        correct(store, clock, classroom, trial, **changes)

    assert field in caught.value.by_field()
    with open_work(store, classroom.teacher, writing=False) as work:
        assert trial == trials.get_trial(work.session, trial.id)


def test_only_the_classs_teacher_corrects(
    store: Store, clock: StandingClock, classroom: Classroom, trial: Trial
) -> None:
    """A tablet may not, another teacher finds nothing."""
    stranger = replace(classroom.teacher, teacher_id=uuid4())
    for actor, error in (
        (classroom.tablets[0], NotAllowed), (stranger, NotFound), (NOBODY, SignedOut)
    ):  # fmt: skip
        with pytest.raises(error), open_work(store, actor, clock=clock) as work:
            correct_trial(work, trial.id, correction_of(trial, amount=1.0))


def test_correction_is_news_for_the_overview(
    store: Store, clock: StandingClock, classroom: Classroom, trial: Trial
) -> None:
    """The class's version moves with the trial and with its correction."""
    correct(store, clock, classroom, trial, amount=1.0)

    with open_work(store, classroom.teacher, writing=False) as work:
        assert 2 == classes.find_version(work.session, classroom.class_id)
