"""A trial has one number, on every page and sheet, whatever becomes of it or of others."""

from __future__ import annotations

from uuid import uuid4

from journal.domain.trials import TrialState
from journal.pictures.finding_drawings import draw_course
from journal.portfolio.trials import list_trials
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.screens.tablet.trials import prepare_log
from journal.screens.trial_lines import trial_lines
from journal.services.corrections import strike_trial
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.trial_entries import entry_of, log


def test_one_taken_back_keeps_its_number(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The third is the third on tablet, desk, chart and paper, although the second is struck."""
    tablet, group_id = classroom.tablets[0], classroom.group_ids[0]
    for number in (1, 2, 3):
        clock.move(days=1)
        trial = log(store, clock, tablet, entry_of(classroom, clock), uuid4())
        if number == 2:
            with open_work(store, tablet, clock=clock) as work:
                strike_trial(work, trial.id)
    with open_work(store, tablet, clock=clock) as work:
        newest = prepare_log(work, group_id).newest
    with open_work(store, classroom.teacher, writing=False) as work:
        record = gather_group(work, get_group_context(work, group_id))

    assert newest is not None
    assert ("Trial 3 is in", 3) == (newest.heading, newest.number)
    desk, paper = trial_lines(record), list_trials(record, ())
    assert [1, 2, 3] == [one.number for one in desk] == [one.number for one in paper]
    assert TrialState.STRUCK.value == desk[1].note
    course = draw_course(record, width_px=600)
    assert course is not None
    assert ["1", "3"] == [row[0] for row in course.table.rows]


def test_every_trial_has_its_day(store: Store, clock: StandingClock, classroom: Classroom) -> None:
    """A table that runs over weeks says on which day each was, on the desk and on paper."""
    clock.move(days=1)
    log(store, clock, classroom.tablets[0], entry_of(classroom, clock))
    with open_work(store, classroom.teacher, writing=False) as work:
        record = gather_group(work, get_group_context(work, classroom.group_ids[0]))
    local = record.trials[0].logged_at.astimezone()
    day = f"{local.day} {local:%b %Y, %H:%M}"
    assert [day] == [one.time for one in trial_lines(record)]
    assert [day] == [one.when for one in list_trials(record, ())]
