"""Tallies of guesses, and browsers that were in before."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import timedelta

from journal.domain.guesses import fresh_tally
from journal.store import browsers, guesses
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom


def test_each_of_many_at_once_sees_the_one_before(store: Store, clock: StandingClock) -> None:
    """Forty works count the same two keys, in either order, and none is lost."""
    now = clock()

    def count(number: int) -> None:
        keys = ["a", "b"] if number % 2 else ["b", "a"]
        with store.open_session(writing=True) as session:
            for key, tally in guesses.lock_tallies(session, keys, now).items():
                guesses.keep_tally(session, key, replace(tally, wrong=tally.wrong + 1))

    with ThreadPoolExecutor(max_workers=8) as pool:
        list(pool.map(count, range(40)))
    with store.open_session(writing=False) as session:
        found = guesses.find_tallies(session, ["a", "b", "c"])
    assert {"a": 40, "b": 40} == {key: tally.wrong for key, tally in found.items()}


def test_a_tally_comes_back_as_it_was_kept_until_it_is_old(
    store: Store, clock: StandingClock
) -> None:
    """Every field, and each moment with its zone."""
    now = clock()
    tally = replace(fresh_tally(now), wrong=3, pauses=2, paused_until=now + timedelta(seconds=20))
    with store.open_session(writing=True) as session:
        assert {"a": fresh_tally(now)} == guesses.lock_tallies(session, ["a"], now)
        guesses.keep_tally(session, "a", tally)
        assert {"a": tally} == guesses.find_tallies(session, ["a"])
        guesses.drop_tallies_before(session, now)
        assert {"a": tally} == guesses.find_tallies(session, ["a"])
        guesses.drop_tallies_before(session, now + timedelta(days=1))
        assert {} == guesses.find_tallies(session, ["a"])


def test_a_browser_is_known_by_its_newest_token_only(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """For tablets and for each teacher who signed in with it, until it was long unused."""
    with store.open_session(writing=True) as session:
        for old, new, teacher_id in (
            ("", "1", None),
            ("1", "2", classroom.teacher_id),
            ("2", "3", classroom.teacher_id),
        ):
            browsers.keep_browser(
                session,
                school_id=classroom.school_id,
                old_hash=old,
                new_hash=new,
                teacher_id=teacher_id,
                at=clock(),
            )
        known = [browsers.teachers_of_browser(session, token) for token in ("1", "2", "3")]
        assert [set(), set(), {None, classroom.teacher_id}] == [set(one) for one in known]
        browsers.drop_browsers_before(session, clock())
        assert {} == browsers.teachers_of_browser(session, "3")
