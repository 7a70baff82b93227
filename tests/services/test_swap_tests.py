"""A swap test is planned in equal turns, followed trial by trial, and ended."""

from __future__ import annotations

from collections import Counter
from typing import Any
from uuid import uuid4

import pytest

from journal.domain.actors import OPERATOR
from journal.domain.errors import Invalid, NotFound, Refused
from journal.domain.swap_tests import SwapKind
from journal.domain.trials import TrialKind
from journal.records.work import open_work
from journal.services.corrections import strike_last
from journal.services.swap_tests import end_swap_test
from journal.store import revisions
from journal.store.engine import Store
from tests.conftest import CountQueries, StandingClock
from tests.factories.classrooms import Classroom
from tests.sentences import raises
from tests.services.swaps import add_launcher, kept, log_all, log_turn, plan
from tests.services.trial_entries import entry_of, log


def test_turns_are_equal_and_begin_either_way(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Each student has as many trials with the old as with the new, A B B A or B A A B."""
    new_id = add_launcher(store, clock, classroom)
    old_id = classroom.shared_revision_ids[0]

    swap_test = plan(store, clock, classroom, new_id, trials_each=4)

    assert swap_test == kept(store, swap_test)
    uses = {
        student: "".join(
            "B" if turn.revision_id == new_id else "A"
            for turn in swap_test.turns
            if turn.student_id == student
        )
        for student in classroom.student_ids[0]
    }
    assert {"ABBA": 2, "BAAB": 1} == Counter(uses.values())
    assert {old_id, new_id} == {turn.revision_id for turn in swap_test.turns}
    assert 12 == len(swap_test.turns)


def test_own_parts_are_exchanged_in_a_ring(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Each dart is used by its owner and by one other, as often."""
    swap_test = plan(store, clock, classroom, uuid4(), kind=SwapKind.OWN_PARTS, trials_each=4)

    used = Counter((turn.student_id, turn.revision_id) for turn in swap_test.turns)
    assert {2} == set(used.values())
    assert [2, 2, 2] == sorted(Counter(dart for _, dart in used).values())
    assert (None, None) == (swap_test.old_revision_id, swap_test.new_revision_id)


def test_a_trial_takes_its_turn_and_the_next_one_is_named(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The tablet is led from turn to turn until all are taken."""
    swap_test = plan(store, clock, classroom, add_launcher(store, clock, classroom), trials_each=4)
    for turn in swap_test.turns[:5]:
        log_turn(store, clock, classroom, turn, "bark")

    again = kept(store, swap_test)
    assert (5, swap_test.turns[5]) == (again.done, again.next_turn)


def test_two_students_may_change_places(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Pairs lie within a student, so the order among students is theirs."""
    swap_test = plan(store, clock, classroom, add_launcher(store, clock, classroom), trials_each=4)
    later = next(
        turn for turn in swap_test.turns if turn.student_id != swap_test.turns[0].student_id
    )

    log_turn(store, clock, classroom, later, "bark")

    assert {later.position} == set(kept(store, swap_test).taken)


def test_what_is_not_the_turn_stays_outside(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The other launcher, or a counted attempt, is kept as a trial and takes no turn."""
    swap_test = plan(store, clock, classroom, add_launcher(store, clock, classroom), trials_each=4)
    first, second = swap_test.turns[:2]
    assert first.student_id == second.student_id

    log_turn(store, clock, classroom, second, "bark")
    counted = entry_of(
        classroom, clock, kind=TrialKind.COUNTED, student_id=first.student_id,
        revision_ids=(first.revision_id, classroom.own_revision_ids[0][0]),
    )  # fmt: skip
    log(store, clock, classroom.tablets[0], counted)

    assert {} == kept(store, swap_test).taken


def test_a_trial_taken_back_frees_its_turn(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Even the last one: a swap test is closed by the trial after it."""
    swap_test = plan(store, clock, classroom, add_launcher(store, clock, classroom), trials_each=4)
    log_all(store, clock, classroom, swap_test, lambda _: "bark")
    through = kept(store, swap_test)
    last = swap_test.turns[-1]
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        strike_last(work, classroom.group_ids[0], through.taken[last.position])

    assert through.is_over
    assert last == kept(store, swap_test).next_turn

    log_turn(store, clock, classroom, last, "blaze")
    again = kept(store, swap_test)
    assert (True, None) == (again.is_over, again.ended_at)
    log(store, clock, classroom.tablets[0], entry_of(classroom, clock))
    assert kept(store, swap_test).ended_at is not None


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"trials_each": 5}, "trials_each"),
        ({"new_revision_id": None}, "new"),
        ({"new_revision_id": uuid4()}, "new"),
        ({"student_ids": (uuid4(),)}, "students"),
    ],
)
def test_choices_that_make_no_plan_are_said_beside_their_field(
    store: Store,
    clock: StandingClock,
    classroom: Classroom,
    changes: dict[str, Any],
    field: str,
) -> None:
    """Five trials, one device, an unknown one, a stranger."""
    with pytest.raises(Invalid) as caught:
        plan(store, clock, classroom, add_launcher(store, clock, classroom), **changes)

    assert [field] == list(caught.value.by_field())


def test_one_alone_exchanges_nothing(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """An exchange needs two own parts."""
    with raises(Invalid, match="Two of you"):
        plan(
            store, clock, classroom, uuid4(), kind=SwapKind.OWN_PARTS,
            student_ids=classroom.student_ids[0][:1],
        )  # fmt: skip


def test_a_device_set_aside_is_not_swapped(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Both must be in use."""
    new_id = add_launcher(store, clock, classroom)
    with open_work(store, OPERATOR, clock=clock) as work:
        revisions.set_aside(work.session, classroom.shared_revision_ids[0], clock())

    with raises(Invalid, match="neither set aside"):
        plan(store, clock, classroom, new_id)


def test_one_is_open_at_a_time_and_may_be_ended(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The second plan waits until the first is ended; another group cannot end it."""
    new_id = add_launcher(store, clock, classroom)
    first = plan(store, clock, classroom, new_id)
    with raises(Refused, match="open already"):
        plan(store, clock, classroom, new_id)
    with (
        pytest.raises(NotFound),
        open_work(store, classroom.tablets[1], clock=clock) as work,
    ):
        end_swap_test(work, classroom.group_ids[1], first.id)

    with open_work(store, classroom.tablets[0], clock=clock) as work:
        end_swap_test(work, classroom.group_ids[0], first.id)

    assert plan(store, clock, classroom, new_id).id != first.id


def test_a_usual_trial_costs_no_statement_more(
    store: Store, clock: StandingClock, classroom: Classroom, count_queries: CountQueries
) -> None:
    """Whether a swap test is open is read with the ground; only then two statements follow."""
    log(store, clock, classroom.tablets[0], entry_of(classroom, clock))
    entry = entry_of(classroom, clock)
    with count_queries() as usual:
        log(store, clock, classroom.tablets[0], entry)
    assert not [one for one in usual if "FROM swap_trials" in one or "INTO swap_trials" in one]

    swap_test = plan(store, clock, classroom, add_launcher(store, clock, classroom))
    with count_queries() as in_turn:
        log_turn(store, clock, classroom, swap_test.turns[0], "bark")
    assert len(usual) + 2 == len(in_turn)
