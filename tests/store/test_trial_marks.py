"""The mark of a group's trials: another one with each change, and with nothing else."""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID, uuid4

from journal.domain.actors import OPERATOR
from journal.domain.trials import Correction, TrialState
from journal.records.work import open_work
from journal.store import trials
from journal.store.engine import Store
from journal.store.trial_marks import mark_trials_of_groups
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.factories.logged_trials import keep_trial


def marks_of(store: Store, room: Classroom, session_id: UUID) -> tuple[str, ...]:
    """Return the marks of both groups."""
    with open_work(store, OPERATOR, writing=False) as work:
        marks = mark_trials_of_groups(work.session, room.school_id, room.group_ids, [session_id])
    return tuple(marks[group_id] for group_id in room.group_ids)


def test_a_mark_changes_with_the_trials_of_its_own_group(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A trial, then a correction of it; another group keeps its mark."""
    here = classroom.session_id
    seen = [marks_of(store, classroom, here)]
    for _ in range(2):
        with open_work(store, OPERATOR, clock=clock) as work:
            keep_trial(work.session, classroom, classroom.shared_revision_ids[0], clock())
        seen.append(marks_of(store, classroom, here))
    for state in (TrialState.VOID, TrialState.MEASURED):
        with open_work(store, OPERATOR, clock=clock) as work:
            last = trials.find_last_trial(work.session, classroom.group_ids[0])
            assert last is not None
            line = Correction(
                trial_id=last.id,
                field="state",
                old=last.state.value,
                new=state.value,
                reason="Told by two of them.",
                corrected_at=clock(),
                teacher_id=classroom.teacher_id,
            )
            trials.correct_trial(work.session, last, replace(last, state=state), [line])
        seen.append(marks_of(store, classroom, here))
    assert seen[-1] == marks_of(store, classroom, here)
    assert 5 == len({first for first, _ in seen})
    assert 1 == len({second for _, second in seen})


def test_trials_of_another_session_are_no_part_of_it(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A mark tells of the sessions that were asked for."""
    before = marks_of(store, classroom, uuid4())
    with open_work(store, OPERATOR, clock=clock) as work:
        keep_trial(work.session, classroom, classroom.shared_revision_ids[0], clock())
    assert before == marks_of(store, classroom, uuid4())
