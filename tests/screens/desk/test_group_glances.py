"""What the overview keeps of a group is given up with whatever changes."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from uuid import uuid4

import pytest
import sqlalchemy as sa

from journal.domain.classes import GradeBand
from journal.domain.swap_tests import SwapKind
from journal.domain.trials import Trial, TrialState
from journal.records.work import Work, open_work
from journal.screens.desk.group_glances import KeptGlances
from journal.services.corrections import correct_trial, strike_last
from journal.services.groups import move_student, rename_group, set_question_language
from journal.services.ladders import leave_ladder, start_climb
from journal.services.lanes import close_lane
from journal.services.measures import set_measures
from journal.services.parked_trials import place_trial, take_entry
from journal.services.sessions import end_session, start_session
from journal.services.swap_tests import SwapEntry, plan_swap_test
from journal.services.visits import log_near_miss, log_visit
from journal.store.classes import ClassRow
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.screens.desk.glances import (
    Change,
    as_teacher,
    log_some,
    look,
    look_as_teacher,
    on_tablet,
)
from tests.services.swaps import add_launcher
from tests.services.test_corrections import correction_of
from tests.services.trial_entries import entry_of


@pytest.fixture
def last(store: Store, clock: StandingClock, classroom: Classroom) -> Trial:
    """Return the last of the first group's trials."""
    return log_some(store, clock, classroom)


def start_next_session(work: Work, room: Classroom, _last: Trial) -> None:
    """End the session and start the next one."""
    end_session(work, room.session_id)
    start_session(work, room.class_id, challenge_id=room.challenge_id, distance="3 m", lanes="1")


def place_late_trial(store: Store, clock: StandingClock, room: Classroom, _last: Trial) -> None:
    """Place a trial that came when its session was over."""
    entry = entry_of(room, clock, amount=4.0, logged_at=clock() + timedelta(minutes=50))
    clock.move(minutes=1)
    with open_work(store, room.teacher, clock=clock) as work:
        end_session(work, room.session_id)
    clock.move(hours=2)
    with open_work(store, room.tablets[0], clock=clock) as work:
        parked = take_entry(work, uuid4(), replace(entry, sent_at=clock()))
    with open_work(store, room.teacher, clock=clock) as work:
        before = look(work, room, KeptGlances())
        place_trial(work, parked.id, room.session_id)  # type: ignore[union-attr]
        assert before[0] != look(work, room, KeptGlances())[0]


def turn_to_band_2(work: Work, room: Classroom, _last: Trial) -> None:
    """Move the class to another band, without counting the change."""
    work.session.execute(
        sa.update(ClassRow).where(ClassRow.id == room.class_id).values(band=GradeBand.TWO)
    )


def speak_spanish(work: Work, room: Classroom, _last: Trial) -> None:
    """Turn the whole class to another language, without counting the change."""
    work.session.execute(
        sa.update(ClassRow).where(ClassRow.id == room.class_id).values(language="es")
    )


CHANGES: dict[str, Change] = {
    "trial": lambda store, clock, room, _: void(log_some(store, clock, room)),
    "strike": on_tablet(lambda work, room, last: strike_last(work, room.group_ids[0], last.id)),
    "correction": as_teacher(
        lambda work, _, last: correct_trial(work, last.id, correction_of(last, x_mm=20.0))
    ),
    "void": as_teacher(
        lambda work, _, last: correct_trial(
            work, last.id, correction_of(last, state=TrialState.VOID)
        )
    ),
    "session started": as_teacher(start_next_session),
    "session ended": as_teacher(lambda work, room, _: end_session(work, room.session_id)),
    "lane": as_teacher(lambda work, room, _: close_lane(work, room.session_id)),
    "visit": as_teacher(lambda work, room, _: log_visit(work, room.group_ids[0])),
    "near-miss": as_teacher(lambda work, room, _: log_near_miss(work, room.group_ids[0])),
    "new revision": lambda store, clock, room, _: void(add_launcher(store, clock, room)),
    "stuck": on_tablet(lambda work, room, _: start_climb(work, room.group_ids[0])),
    "parked trial placed": place_late_trial,
    "member left": as_teacher(
        lambda work, room, _: move_student(
            work, room.class_id, room.student_ids[0][1], room.group_ids[1]
        )
    ),
    "renamed": as_teacher(
        lambda work, room, _: rename_group(work, room.class_id, room.group_ids[0], "Otters")
    ),
    "measures": as_teacher(lambda work, room, _: set_measures(work, room.class_id, ["show_mean"])),
    "band": as_teacher(turn_to_band_2),
    "language": as_teacher(speak_spanish),
    "question language": as_teacher(
        lambda work, room, _: set_question_language(work, room.class_id, room.group_ids[0], "es")
    ),
}


def void(_result: object) -> None:
    """Take a result that no caller wants."""


@pytest.mark.parametrize("name", CHANGES)
def test_every_change_is_seen(
    store: Store, clock: StandingClock, classroom: Classroom, last: Trial, name: str
) -> None:
    """After a change, what is kept and what is worked out from nothing are the same."""
    kept = KeptGlances()
    before = look_as_teacher(store, clock, classroom, kept)
    CHANGES[name](store, clock, classroom, last)
    after = look_as_teacher(store, clock, classroom, kept)
    assert look_as_teacher(store, clock, classroom) == after
    assert before[0] != after[0]


def test_what_follows_a_call_is_seen(
    store: Store, clock: StandingClock, classroom: Classroom, last: Trial
) -> None:
    """A group that leaves the ladder, and one that plans a swap test, is shown as it is then."""
    del last
    kept = KeptGlances()
    new_id = add_launcher(store, clock, classroom)
    plan = SwapEntry(
        kind=SwapKind.REVISIONS,
        old_revision_id=classroom.shared_revision_ids[0],
        new_revision_id=new_id,
        student_ids=classroom.student_ids[0][:2],
    )
    for change in (
        on_tablet(lambda work, room, _: start_climb(work, room.group_ids[0])),
        on_tablet(lambda work, room, _: leave_ladder(work, room.group_ids[0])),
        on_tablet(lambda work, room, _: plan_swap_test(work, room.group_ids[0], plan)),
    ):
        look_as_teacher(store, clock, classroom, kept)
        clock.move(minutes=1)
        change(store, clock, classroom, None)  # type: ignore[arg-type]
        assert look_as_teacher(store, clock, classroom) == look_as_teacher(
            store, clock, classroom, kept
        )
