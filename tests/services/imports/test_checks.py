"""Sessions and counted attempts that a table names, held against those of the class."""

from __future__ import annotations

from dataclasses import replace

import pytest

from journal.content.library import get_ready_challenge
from journal.domain.actors import OPERATOR
from journal.domain.errors import Invalid
from journal.exchange.trials import read_trials
from journal.records.group_contexts import get_group_context
from journal.records.work import open_work
from journal.services.imports.trials import import_trials
from journal.store import challenges, classes
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.sentences import raises, what_of
from tests.services.table_imports import read_record, take_table


def test_a_session_that_is_not_there_is_named(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Session 1 runs; the next ones may be made, 99 is a slip, and each row says so."""
    with pytest.raises(Invalid) as caught:
        take_table(
            store,
            clock,
            classroom,
            "revision,student,session,x_mm,y_mm",
            "1,Ada,2,0,0",
            "1,Ada,99,0,0",
            "1,Ada,Session 4,0,0",
            "1,Ada,0,0,0",
        )
    assert ["row 3, session", "row 4, session", "row 5, session"] == [
        problem.field for problem in caught.value.problems
    ]
    assert "There is no session 99: the next one is 2." in what_of(caught.value.problems[0])
    assert (1, ()) == (
        len(read_record(store, classroom).context.sessions),
        read_record(store, classroom).trials,
    )


def test_new_sessions_get_the_numbers_that_they_are_called(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Whatever comes first in the table; a name comes after the numbers."""
    table = (
        "revision,student,session,distance_mm,x_mm,y_mm",
        "1,Ada,spring,3000,0,0",
        "1,Ada,3,1300,0,0",
        "1,Ada,2,1200,0,0",
        "1,Ada,session 3,1300,0,0",
    )
    take_table(store, clock, classroom, *table)
    record = read_record(store, classroom)
    numbers = {session.id: session.number for session in record.context.sessions}
    assert [4, 3, 2, 3] == [numbers[trial.session_id] for trial in record.trials]
    assert 4 == take_table(store, clock, classroom, *table).known_count


def test_a_session_of_another_challenge_takes_no_trial(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Its number is known, and the sentence says why it is not meant."""
    with open_work(store, OPERATOR, clock=clock) as work:
        school_class = classes.get_class(work.session, classroom.class_id)
        bridge = challenges.add_challenge(
            work.session, school_class, get_ready_challenge("paper_bridge"), clock()
        )
        rows = read_trials("revision,session,value\n1,1,300\n")
        name = get_group_context(work, classroom.group_ids[0]).group.name
        rows = [replace(row, group=name) for row in rows]
        assert bridge.id is not None
        with raises(Invalid, match="1 row needs mending") as caught:
            import_trials(work, classroom.class_id, bridge.id, rows)
    assert "Session 1 was about another challenge." in what_of(caught.value.problems[0])


def test_a_fourth_counted_attempt_is_refused(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Three a member, over tables and tablets; a misfire takes none, and each has an owner."""
    head = "revision,student,kind,order,x_mm,y_mm,misfire"
    three = [f"1,Ada,counted,{order},0,0," for order in (1, 2, 3)]
    take_table(store, clock, classroom, head, *three[:2], "1,Ada,counted,9,,,stuck")
    with pytest.raises(Invalid) as caught:
        take_table(
            store,
            clock,
            classroom,
            head,
            "1,Ada,counted,4,1,1,",
            "1,Ada,counted,5,2,2,",
            "1,Ben,counted,6,0,0,",
            "1,,counted,7,0,0,",
        )
    assert [("row 3, kind", "Ada has had all 3"), ("row 5, student", "A counted attempt")] == [
        (problem.field, what_of(problem)[:17]) for problem in caught.value.problems
    ]
    # What an earlier table brought is not counted twice when it comes again with one more.
    again = take_table(store, clock, classroom, head, *three)
    assert (2, 1) == (again.known_count, again.trial_count)
