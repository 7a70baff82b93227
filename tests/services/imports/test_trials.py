"""Trials taken over from a table."""

from __future__ import annotations

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.errors import Invalid, NotAllowed, NotFound
from journal.domain.trials import Place, Trial, TrialKind, TrialState
from journal.exchange.trials import read_trials
from journal.records.work import open_work
from journal.services.imports.trials import import_trials
from journal.services.revisions import set_aside
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.sentences import what_of
from tests.services.table_imports import read_record, take_table
from tests.services.trial_entries import make_bridge_room


def test_a_table_becomes_trials_of_new_revisions(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A known label is found by its number, a new one follows from the one before."""
    report = take_table(
        store,
        clock,
        classroom,
        "revision,student,x_mm,y_mm",
        "1,Ada,0,0",
        "Launcher 1,ben,-100,100",
        "long rail,Ada,10,10",
        "long rail,,200,0",
    )
    assert (4, 1) == (report.trial_count, report.revision_count)
    record = read_record(store, classroom)
    launcher = record.parts[0]
    assert [None, launcher.revisions[0].id] == [
        revision.parent_id for revision in launcher.revisions
    ]
    assert "long rail" in launcher.revisions[1].reason
    assert [8.0, 4.0, 8.0, 1.0] == [trial.value for trial in record.trials]
    assert classroom.student_ids[0][1] == record.trials[1].student_id
    assert record.trials[3].student_id is None


def test_everything_wrong_is_said_at_once_and_nothing_is_kept(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Each problem names row and column; the rows that are well are not taken either."""
    with pytest.raises(Invalid) as caught:
        take_table(
            store,
            clock,
            classroom,
            "group,revision,student,own_part,handling,x_mm,y_mm,place,value,amount,misfire",
            "Group X,1,Ada,,,0,0,,,,",
            "{group},1,Zoe,,,0,0,,,,",
            "{group},1,Ada,Zoe 2,,0,0,,,,",
            "{group},1,Ada,,pull=double,0,0,,,,",
            "{group},1,Ada,,,9999,0,,,,",
            "{group},1,Ada,,,0,0,,4,,",
            "{group},1,Ada,,,,,,3,,",
            "{group},1,Ada,,,,,,0,,",
            "{group},1,Ada,,,,,panel,,,",
            "{group},1,Ada,,,,,,,,gust",
            "{group},1,Ada,,,0,0,,,,",
        )
    assert [
        "row 2, group", "row 3, student", "row 4, own_part", "row 5, handling", "row 6, x_mm",
        "row 7, value", "row 8, value", "row 9, place", "row 10, place", "row 11, misfire",
    ] == [problem.field for problem in caught.value.problems]  # fmt: skip
    said = {problem.field: what_of(problem) for problem in caught.value.problems}
    assert 'Nobody called "Zoe" is or was in group' in said["row 3, student"]
    assert "pull=full or half" in said["row 5, handling"]
    assert "The band slipped off" in said["row 11, misfire"]
    assert () == read_record(store, classroom).trials


def test_measures_places_and_misfires_are_read_by_the_challenge(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Points name their zone; wall and nowhere are places; a cause is known by key or name."""
    take_table(
        store,
        clock,
        classroom,
        "revision,student,kind,handling,place,value,amount,misfire",
        "1,Ada,counted,full; mark 3,,4,2,",
        "1,Ada,,tilt=mark 2,wall,,,",
        "1,Ada,,,nowhere,0,,",
        "1,Ada,,,,,,The dart got stuck",
        "1,Ada,,,,,,let_go",
    )
    trials = read_record(store, classroom).trials
    assert [Place.PANEL, Place.WALL, Place.NOWHERE, None, None] == [trial.place for trial in trials]
    assert ("bark", 4.0, 2.0) == (trials[0].zone, trials[0].value, trials[0].amount)
    assert TrialKind.COUNTED is trials[0].kind
    assert {"pull": "full", "tilt": "mark 3"} == trials[0].handling
    assert ["stuck", "let_go"] == [trial.misfire for trial in trials[3:]]
    assert [TrialState.MISFIRE] * 2 == [trial.state for trial in trials[3:]]


def test_an_own_part_is_known_by_its_owner(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """With a number it is that revision, without one the present one; a new number makes one."""
    take_table(
        store,
        clock,
        classroom,
        "revision,student,own_part,x_mm,y_mm",
        "1,Ada,Ada,0,0",
        "1,Ada,Ada 2,0,0",
        "1,Ben,Ada's dart 1,0,0",
    )
    record = read_record(store, classroom)
    dart = next(state for state in record.parts if state.name == "Ada’s dart")
    assert [1, 2] == [revision.number for revision in dart.revisions]
    assert [[1], [2], [1]] == [_numbers(trial, dart.revisions) for trial in record.trials]


def test_sessions_are_found_by_number_or_made(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A trial takes its session's distance, unless the row tells its own; a new one has ended."""
    take_table(
        store,
        clock,
        classroom,
        "revision,student,session,distance_mm,x_mm,y_mm",
        "1,Ada,1,,0,0",
        "1,Ada,Session 1,1800,0,0",
        "1,Ada,last year,3000,0,0",
    )
    record = read_record(store, classroom)
    assert [2500, 1800, 3000] == [trial.distance_mm for trial in record.trials]
    assert [1, 2] == [session.number for session in record.context.sessions]
    assert [True, False] == [session.is_running for session in record.context.sessions]
    assert classroom.session_id == record.trials[1].session_id


def test_the_order_of_the_table_is_kept(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The column order decides where every row has one."""
    take_table(
        store,
        clock,
        classroom,
        "revision,student,order,x_mm,y_mm",
        "1,Ada,3,250,0",
        "1,Ada,1,0,0",
        "1,Ada,2,-90,100",
    )
    assert [8.0, 4.0, 1.0] == [trial.value for trial in read_record(store, classroom).trials]


def test_the_same_table_twice_is_taken_once(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Neither a trial nor a revision nor a session comes twice."""
    table = ("revision,student,x_mm,y_mm", "soft tip,Ada,0,0", "soft tip,Ada,0,0")
    first = take_table(store, clock, classroom, *table)
    again = take_table(store, clock, classroom, *table)
    assert (2, 1, 0) == (first.trial_count, first.revision_count, first.known_count)
    assert (0, 0, 2) == (again.trial_count, again.revision_count, again.known_count)
    record = read_record(store, classroom)
    assert (2, 2, 2) == (
        len(record.trials),
        len(record.parts[0].revisions),
        len(record.context.sessions),
    )


def test_a_revision_that_was_set_aside_takes_none(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """What nobody may test any more is not filled from a table either."""
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        set_aside(work, classroom.group_ids[0], classroom.shared_revision_ids[0])
    with pytest.raises(Invalid) as caught:
        take_table(store, clock, classroom, "revision,x_mm,y_mm", "1,0,0")
    assert "was set aside" in what_of(caught.value.problems[0])


def test_a_challenge_with_a_measure_takes_values_in_its_limits(
    store: Store, clock: StandingClock
) -> None:
    """A bridge is loaded in grams: a place is refused, so is a load below nothing."""
    room = make_bridge_room(store, clock)
    take_table(store, clock, room, "revision,student,value", "1,Ada,340")
    assert [340.0] == [trial.value for trial in read_record(store, room).trials]
    for column, cells in (
        ("place", "1,Ada,,wall,"),
        ("value", "1,Ada,-3,,"),
        ("own_part", "1,Ada,3,,Ada"),
    ):
        with pytest.raises(Invalid) as caught:
            take_table(store, clock, room, "revision,student,value,place,own_part", cells)
        assert f"row 2, {column}" == caught.value.problems[0].field


def test_only_the_classs_own_teacher_takes_a_table_over(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A tablet may not, and a challenge of another class is not found."""
    rows = read_trials("revision,value\n1,4\n")
    with open_work(store, classroom.tablets[0]) as work, pytest.raises(NotAllowed):
        import_trials(work, classroom.class_id, classroom.challenge_id, rows)
    other = make_bridge_room(store, clock)
    with open_work(store, OPERATOR) as work, pytest.raises(NotFound):
        import_trials(work, classroom.class_id, other.challenge_id, rows)


def _numbers(trial: Trial, revisions: tuple) -> list[int]:  # type: ignore[type-arg]
    return [revision.number for revision in revisions if revision.id in trial.revision_ids]
