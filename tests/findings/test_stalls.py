"""What else tells that a group may be stuck: going back and forth between revisions."""

from __future__ import annotations

from uuid import UUID, uuid4

import pytest

from journal.analysis.stall import Stall, StallContext, find_stall
from journal.domain.ladders import LedTo
from journal.domain.revisions import Change, RevisionEntry
from journal.domain.trials import Place, TrialEntry, TrialKind
from journal.findings.stalls import count_returns_of, find_stall_of
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import open_work
from journal.screens.desk.diagnoses import prepare_diagnosis
from journal.services.ladder_steps import StepEntry, leave_for
from journal.services.ladders import start_climb
from journal.services.revisions import find_in_context, make_revision
from journal.services.trials import log_trial
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.trial_entries import entry_of, log


def make_second_launcher(store: Store, clock: StandingClock, room: Classroom) -> UUID:
    """Make the next revision of the first group's launcher."""
    with open_work(store, room.tablets[0], clock=clock) as work:
        context = get_group_context(work, room.group_ids[0])
        state, first = find_in_context(work, context, room.shared_revision_ids[0])
        entry = RevisionEntry(
            part_id=state.part.id,
            parent_id=first.id,
            changes=(Change(factor="bands", from_value="", to_value="2"),),
            reason="It was weak.",
        )
        return make_revision(work, room.group_ids[0], entry).id


@pytest.mark.parametrize(("used", "times"), [("121", 0), ("1212", 2), ("12121", 3)])
def test_going_back_and_forth_is_counted_and_told_to_the_teacher(
    store: Store, clock: StandingClock, classroom: Classroom, used: str, times: int
) -> None:
    """One return is trying again; from two on the teacher reads how often."""
    launchers = {
        "1": classroom.shared_revision_ids[0],
        "2": make_second_launcher(store, clock, classroom),
    }
    for number in used:
        entry = TrialEntry(
            revision_ids=(launchers[number], classroom.own_revision_ids[0][0]),
            kind=TrialKind.PRACTICE,
            logged_at=clock(),
            student_id=classroom.student_ids[0][0],
            place=Place.PANEL,
            x_mm=0.0,
            y_mm=-200.0,
            amount=4,
        )
        with open_work(store, classroom.tablets[0], clock=clock) as work:
            log_trial(work, uuid4(), entry)
    with open_work(store, classroom.teacher, writing=False, clock=clock) as work:
        context = get_group_context(work, classroom.group_ids[0])
        assert times == count_returns_of(gather_group(work, context))
        told = prepare_diagnosis(work, classroom.group_ids[0])
    assert (f"Went back {times} times" in str(told)) is (times > 0)


def test_a_stall_is_asked_about_since_the_newest_climb(
    store: Store, clock: StandingClock, classroom: Classroom, monkeypatch: pytest.MonkeyPatch
) -> None:
    """So many trials were in when the group was called last."""
    seen: list[int | None] = []
    group_id = classroom.group_ids[0]

    def note(records: object, context: StallContext) -> Stall:
        seen.append(context.called_at)
        return find_stall(records, context)  # type: ignore[arg-type]

    monkeypatch.setattr("journal.findings.stalls.find_stall", note)
    for _ in range(4):
        with open_work(store, classroom.teacher, writing=False, clock=clock) as work:
            find_stall_of(gather_group(work, get_group_context(work, group_id)))
        log(store, clock, classroom.tablets[0], entry_of(classroom, clock))
        with open_work(store, classroom.tablets[0], clock=clock) as work:
            start_climb(work, group_id)
            leave_for(work, group_id, StepEntry(led_to=LedTo.REVISION))
    assert [None, 1, 2, 3] == seen
