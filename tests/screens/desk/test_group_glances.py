"""What the overview keeps of a group is given up with whatever changes, and with nothing else."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from uuid import uuid4

import pytest
import sqlalchemy as sa

from journal.domain.actors import OPERATOR
from journal.domain.classes import GradeBand
from journal.domain.swap_tests import SwapKind
from journal.domain.trials import Trial, TrialState
from journal.records.work import Work, open_work
from journal.screens.desk.group_glances import GroupGlance, KeptGlances, glance_at_class
from journal.services.corrections import correct_trial, strike_last
from journal.services.groups import move_student, rename_group, set_question_language
from journal.services.ladders import leave_ladder, start_climb
from journal.services.lanes import close_lane
from journal.services.measures import set_measures
from journal.services.parked_trials import place_trial, take_entry
from journal.services.sessions import end_session, start_session
from journal.services.swap_tests import SwapEntry, plan_swap_test
from journal.services.visits import log_near_miss, log_visit
from journal.store import classes, migrate, trials
from journal.store.classes import ClassRow
from journal.store.engine import Store
from tests.conftest import CountQueries, StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.services.swaps import add_launcher
from tests.services.test_corrections import correction_of
from tests.services.trial_entries import entry_of, log


def look(work: Work, room: Classroom, kept: KeptGlances) -> tuple[GroupGlance, ...]:
    """Return the glances at a class, those that were kept and those made anew."""
    return glance_at_class(work, classes.get_class(work.session, room.class_id), kept)


def look_as_teacher(
    store: Store, clock: StandingClock, room: Classroom, kept: KeptGlances | None = None
) -> tuple[GroupGlance, ...]:
    """Return the glances in a work of their own; with nothing kept where nothing is given."""
    with open_work(store, room.teacher, writing=False, clock=clock) as work:
        return look(work, room, KeptGlances() if kept is None else kept)


def log_some(store: Store, clock: StandingClock, room: Classroom) -> Trial:
    """Log three trials of the first group and return the last."""
    clock.move(minutes=1)
    logged = [
        log(store, clock, room.tablets[0], entry_of(room, clock, amount=4.0, x_mm=60.0 * number))
        for number in range(3)
    ]
    return logged[-1]


@pytest.fixture
def last(store: Store, clock: StandingClock, classroom: Classroom) -> Trial:
    """Return the last of the first group's trials."""
    return log_some(store, clock, classroom)


Change = Callable[[Store, StandingClock, Classroom, Trial], None]


def as_teacher(change: Callable[[Work, Classroom, Trial], object]) -> Change:
    """Return a change that the teacher makes in a work of its own."""

    def make(store: Store, clock: StandingClock, room: Classroom, last: Trial) -> None:
        with open_work(store, room.teacher, clock=clock) as work:
            change(work, room, last)

    return make


def on_tablet(change: Callable[[Work, Classroom, Trial], object]) -> Change:
    """Return a change that the first group's tablet makes."""

    def make(store: Store, clock: StandingClock, room: Classroom, last: Trial) -> None:
        with open_work(store, room.tablets[0], clock=clock) as work:
            change(work, room, last)

    return make


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


def test_trials_are_read_only_of_the_group_that_changed(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    last: Trial,
    monkeypatch: pytest.MonkeyPatch,
    count_queries: CountQueries,
) -> None:
    """Nothing changed: two statements fewer and no trial; one group logged: its trials alone."""
    del last
    read: list[int] = []
    select = trials.trials_of_groups

    def count(*given: object) -> tuple[Trial, ...]:
        read.append(len(list(given[1])))  # type: ignore[call-overload]
        return select(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(trials, "trials_of_groups", count)
    kept, statements = KeptGlances(), []
    for change in (False, False, True):
        if change:
            log_some(store, clock, classroom)
        with count_queries() as counted:
            look_as_teacher(store, clock, classroom, kept)
        statements.append(len(counted))
    assert [2, 1] == read
    assert statements[0] == statements[1] + 2 == statements[2]
    assert statements[1] <= 18


def test_only_so_many_are_kept(store: Store, clock: StandingClock, classroom: Classroom) -> None:
    """What was not looked at for longest is given up, and a group never takes two places."""
    kept = KeptGlances(most=1)
    first = look_as_teacher(store, clock, classroom, kept)
    assert 1 == len(kept)
    assert first == look_as_teacher(store, clock, classroom, kept)
    large = KeptGlances()
    for _ in range(2):
        look_as_teacher(store, clock, classroom, large)
        log_some(store, clock, classroom)
    assert 2 == len(large)


def test_what_another_process_writes_is_seen(
    store: Store, database_url: str, clock: StandingClock, classroom: Classroom, last: Trial
) -> None:
    """Each of two servers keeps for itself, and shows what came in through the other."""
    other = Store(database_url, durable=False)
    here, there = KeptGlances(), KeptGlances()
    look_as_teacher(store, clock, classroom, here)
    look_as_teacher(other, clock, classroom, there)
    CHANGES["void"](other, clock, classroom, last)
    seen = look_as_teacher(store, clock, classroom, here)
    assert seen == look_as_teacher(other, clock, classroom, there)
    assert "2 trials" in seen[0].row.now
    other.close()


def test_what_was_rolled_back_is_never_shown(
    store: Store, clock: StandingClock, classroom: Classroom, last: Trial
) -> None:
    """An overview made in the middle of a work that failed is not shown again."""
    kept = KeptGlances()
    before = look_as_teacher(store, clock, classroom, kept)

    def fail(work: Work) -> None:
        correct_trial(work, last.id, correction_of(last, state=TrialState.VOID))
        assert "2 trials" in look(work, classroom, kept)[0].row.now
        raise ZeroDivisionError

    with (
        pytest.raises(ZeroDivisionError),
        open_work(store, classroom.teacher, clock=clock) as work,
    ):
        fail(work)
    assert before == look_as_teacher(store, clock, classroom, kept)
    # As many corrections as the one that failed made: another one all the same.
    CHANGES["correction"](store, clock, classroom, last)
    after = look_as_teacher(store, clock, classroom, kept)
    assert look_as_teacher(store, clock, classroom) == after
    assert "3 trials" in after[0].row.now


def test_another_history_of_the_same_database_is_told_apart(
    tmp_path: Path, clock: StandingClock
) -> None:
    """A copy is put back and goes on with as many trials, at the same moments: others are shown."""
    paths = [tmp_path / name for name in ("journal.sqlite3", "copy.sqlite3")]
    kept = KeptGlances()

    def run(hits: tuple[float, ...]) -> tuple[GroupGlance, ...]:
        store = Store(f"sqlite:///{paths[0]}", durable=False)
        for x_mm in hits:
            entry = entry_of(room, clock, amount=4.0, x_mm=x_mm)
            log(store, clock, room.tablets[0], entry)
        seen = look_as_teacher(store, clock, room, kept)
        assert look_as_teacher(store, clock, room) == seen
        store.close()
        return seen

    store = Store(f"sqlite:///{paths[0]}", durable=False)
    migrate.upgrade(store.engine)
    with open_work(store, OPERATOR, clock=clock) as work:
        room = make_classroom(work.session, clock())
    store.close()
    shutil.copyfile(*paths)
    first = run((10.0, 20.0))
    paths[0].unlink()
    for rest in tmp_path.glob("journal.sqlite3-*"):
        rest.unlink()
    shutil.copyfile(*reversed(paths))
    assert first[0].row.dots_svg != run((150.0, 290.0))[0].row.dots_svg


def test_minutes_pass_without_a_change(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """What is kept says nothing that the clock makes wrong."""
    kept = KeptGlances()
    with open_work(store, classroom.teacher, clock=clock) as work:
        log_visit(work, classroom.group_ids[0])
    seen = look_as_teacher(store, clock, classroom, kept)
    assert 0 == seen[0].row_at(clock()).minutes_since_visit
    clock.move(minutes=7)
    again = look_as_teacher(store, clock, classroom, kept)
    assert again[0] is seen[0]
    assert 7 == again[0].row_at(clock()).minutes_since_visit
    assert look_as_teacher(store, clock, classroom)[0].row == again[0].row
