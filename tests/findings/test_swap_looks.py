"""What a running swap test says at its looks and between them."""

from __future__ import annotations

import pytest

from journal.analysis.verdicts import Verdict
from journal.domain.swap_tests import SwapTest
from journal.findings.swap_tests import SwapJudgement, judge_swap_test
from journal.records.work import open_work
from journal.services.swap_tests import end_swap_test
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.swaps import add_launcher, kept, log_turn, plan, record_of


def _log_turns(
    store: Store, clock: StandingClock, room: Classroom, swap_test: SwapTest, turns: slice
) -> SwapJudgement:
    """Log some turns, the new one in the blaze except in the first pair, and judge the test."""
    for turn in swap_test.turns[turns]:
        leads = turn.revision_id == swap_test.new_revision_id and turn.position > 2
        zone = "blaze" if leads else "trunk"
        log_turn(store, clock, room, turn, zone)
    return judge_swap_test(record_of(store, room), kept(store, swap_test))


def test_a_running_test_is_judged_at_its_looks_and_the_verdict_stands_between(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Twelve pairs planned: a look at eight; at eleven the page still says what eight said."""
    new_id = add_launcher(store, clock, classroom)
    swap_test = plan(store, clock, classroom, new_id)

    before = _log_turns(store, clock, classroom, swap_test, slice(14))
    at_look = _log_turns(store, clock, classroom, swap_test, slice(14, 16))
    between = _log_turns(store, clock, classroom, swap_test, slice(16, 22))

    assert ((), "The next look is after 1 more pair.") == (before.sentences, before.next_look)
    assert "In the swap test Launcher 2 did better in 7 of 8 pairs." == at_look.sentences[0]
    assert at_look.sentences == between.sentences
    assert "The next look is after 4 more pairs." == at_look.next_look
    assert "The next look is after 1 more pair." == between.next_look
    # 2 of 2^7 ways (.0156) would be clear alone; two thirds of the way there is less to spend.
    assert at_look.comparison is not None
    assert pytest.approx(2 / 2**7) == at_look.comparison.p_value
    assert not at_look.comparison.verdict.clear


def test_a_test_that_is_clear_at_a_look_may_be_ended_and_stays_clear(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Eighteen pairs planned: clear at twelve, and ending it there takes nothing back."""
    new_id = add_launcher(store, clock, classroom)
    swap_test = plan(store, clock, classroom, new_id, trials_each=12)
    running = _log_turns(store, clock, classroom, swap_test, slice(24))
    assert "This is clear, so you may end the test now." == running.next_look
    with open_work(store, classroom.tablets[0], clock=clock) as work:
        end_swap_test(work, classroom.group_ids[0], swap_test.id)
    ended = judge_swap_test(record_of(store, classroom), kept(store, swap_test))
    assert (running.sentences, "") == (ended.sentences, ended.next_look)
    assert ended.comparison is not None
    assert Verdict.MORE is ended.comparison.verdict
