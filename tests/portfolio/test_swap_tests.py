"""Swap tests on paper: beside the revision they tested, and looking back for an exchange."""

from __future__ import annotations

from journal.domain.swap_tests import SwapKind
from journal.jobs.portfolios import print_portfolio
from journal.portfolio.gathering import gather_portfolio
from journal.records.work import open_work
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom
from tests.services.swaps import add_launcher, log_all, plan


def test_a_swap_test_stands_beside_its_revision_and_prints(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The picture with launcher 2, whose Finding tells the pairs; nothing is told twice."""
    new_id = add_launcher(store, clock, classroom)
    swap_test = plan(store, clock, classroom, new_id, trials_each=4)
    log_all(
        store, clock, classroom, swap_test,
        lambda turn: "blaze" if turn.revision_id == new_id else "trunk",
    )  # fmt: skip
    with open_work(store, classroom.teacher, writing=False) as work:
        page = gather_portfolio(work, classroom.group_ids[0])

    first, second = (spread.happened for spread in page.spreads)
    assert first is not None
    assert second is not None
    assert (0, 1) == (len(first.swaps), len(second.swaps))
    assert "Swap test, Launcher 1 and Launcher 2" == second.swaps[0].heading
    assert "<svg" in second.swaps[0].picture
    assert "In the swap test Launcher 2 did better in 6 of 6 pairs." == second.beside[0]
    assert () == second.swaps[0].sentences
    assert print_portfolio(page).startswith(b"%PDF")


def test_an_exchange_stands_where_the_group_looks_back(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """With its own sentences, for no revision tells them."""
    dart = classroom.own_revision_ids[0][0]
    swap_test = plan(store, clock, classroom, dart, kind=SwapKind.OWN_PARTS, trials_each=4)
    log_all(store, clock, classroom, swap_test, lambda _: "bark")
    with open_work(store, classroom.teacher, writing=False) as work:
        page = gather_portfolio(work, classroom.group_ids[0])

    (exchange,) = page.looking_back.exchanges
    assert "Swap test, our own darts" == exchange.heading
    assert ("Each dart did the same so far.",) == exchange.sentences
