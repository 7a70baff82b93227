"""What the overview keeps of a group: used where nothing changed, and never where it is wrong."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.trials import Trial, TrialState
from journal.records.work import Work, open_work
from journal.screens.desk.group_glances import GroupGlance, KeptGlances
from journal.services.corrections import correct_trial
from journal.services.visits import log_visit
from journal.store import migrate, trials
from journal.store.engine import Store
from tests.conftest import CountQueries, StandingClock
from tests.factories.classrooms import Classroom, make_classroom
from tests.screens.desk.glances import as_teacher, log_some, look, look_as_teacher
from tests.services.test_corrections import correction_of
from tests.services.trial_entries import entry_of, log


@pytest.fixture
def last(store: Store, clock: StandingClock, classroom: Classroom) -> Trial:
    """Return the last of the first group's trials."""
    return log_some(store, clock, classroom)


void = as_teacher(
    lambda work, _, last: correct_trial(work, last.id, correction_of(last, state=TrialState.VOID))
)
correct = as_teacher(
    lambda work, _, last: correct_trial(work, last.id, correction_of(last, x_mm=20.0))
)


def test_trials_are_read_only_of_the_group_that_changed(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    last: Trial,
    monkeypatch: pytest.MonkeyPatch,
    count_queries: CountQueries,
) -> None:
    """Nothing changed: one statement fewer and no trial; one group logged: its trials alone."""
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
    assert statements[0] == statements[1] + 1 == statements[2]
    assert statements[1] <= 14


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
    void(other, clock, classroom, last)
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
    correct(store, clock, classroom, last)
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
