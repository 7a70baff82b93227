"""What stands in the margin of a group's page: the newest first."""

from __future__ import annotations

from journal.domain.ladders import AnswerEntry, LedTo, Rung
from journal.findings.group_findings import find_for_group
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import Work, open_work
from journal.screens.desk.side_notes import SideNotes, gather_side_notes
from journal.services.ladder_steps import StepEntry, leave_for
from journal.services.ladders import answer_rung, start_climb
from journal.services.visits import log_visit, note_visit
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom


def _entry(rung: Rung, words: str) -> AnswerEntry:
    return AnswerEntry(rung=rung, question="", words=words)


def _gather(work: Work, room: Classroom) -> SideNotes:
    record = gather_group(work, get_group_context(work, room.group_ids[0]))
    return gather_side_notes(record, find_for_group(record))


def test_the_last_visit_stands_first(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Each with its time, its reason and its note."""
    group_id = classroom.group_ids[0]
    with open_work(store, classroom.teacher, clock=clock) as work:
        for reason in ("4 misfires", "Asked for you", ""):
            kept = log_visit(work, group_id, reason=reason)
            note_visit(work, group_id, kept.id, f"Note on {reason or 'nothing'}.")
            clock.move(minutes=10)
        visits = _gather(work, classroom).visits
    assert ["", "Asked for you", "4 misfires"] == [visit.what for visit in visits]
    assert ["Note on nothing.", "Note on Asked for you.", "Note on 4 misfires."] == [
        visit.answer for visit in visits
    ]
    assert ["09:20", "09:10", "09:00"] == [visit.when.split(", ")[1] for visit in visits]


def test_the_last_answer_of_the_last_climb_stands_first(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Two climbs, the first one with two answers."""
    group_id = classroom.group_ids[0]
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        start_climb(work, group_id)
        answer_rung(work, group_id, _entry(Rung.NOTICE, "It hits low."))
        answer_rung(work, group_id, _entry(Rung.COMPARE, "Ben hits high."))
        leave_for(work, group_id, StepEntry(led_to=LedTo.REVISION))
        clock.move(minutes=10)
        start_climb(work, group_id)
        answer_rung(work, group_id, _entry(Rung.NOTICE, "It hits left."))
    with open_work(store, classroom.teacher, clock=clock) as work:
        ladder = _gather(work, classroom).ladder
    assert ["It hits left.", "Ben hits high.", "It hits low."] == [
        said.answer.strip("“”") for said in ladder
    ]
    assert ["09:10", "09:00", "09:00"] == [said.when.split(", ")[1] for said in ladder]
