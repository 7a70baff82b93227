"""Signing in and out."""

from __future__ import annotations

from journal.domain.actors import NOBODY, Actor
from journal.records.work import open_work
from journal.services.sign_ins import actor_of, hash_token, sign_out, start_sign_in
from journal.store import classes
from journal.store.engine import Store
from tests.conftest import StandingClock
from tests.factories.classrooms import Classroom


def _start(store: Store, clock: StandingClock, actor: Actor, before: Actor = NOBODY) -> str:
    with open_work(store, before, clock=clock) as work:
        return start_sign_in(work, actor)


def test_a_token_is_long_random_and_kept_as_a_hash_only(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """128 random bits (OWASP ASVS 5.0, 7.2.3), new at each sign-in."""
    tokens = {_start(store, clock, classroom.teacher) for _ in range(20)}
    assert 20 == len(tokens)
    assert all(len(token) * 6 >= 128 for token in tokens)
    assert not tokens & {hash_token(token) for token in tokens}


def test_a_new_sign_in_ends_the_one_the_device_had(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A tablet that comes in again for another group leaves nothing open."""
    first = _start(store, clock, classroom.tablets[0])
    second = _start(store, clock, classroom.tablets[1], actor_of(store, first, clock))
    assert NOBODY == actor_of(store, first, clock)
    assert classroom.group_ids[1] == actor_of(store, second, clock).group_id


def test_signing_out_ends_the_sign_in_and_counts_as_news(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The teacher's overview hears that a tablet has gone; signing out twice is no error."""
    token = _start(store, clock, classroom.tablets[0])
    actor = actor_of(store, token, clock)
    with open_work(store, actor, clock=clock) as work:
        before = classes.find_version(work.session, classroom.class_id)
        sign_out(work)
        sign_out(work)
        after = classes.find_version(work.session, classroom.class_id)
    assert NOBODY == actor_of(store, token, clock)
    assert before != after
    with open_work(store, NOBODY, clock=clock) as work:
        sign_out(work)


def test_a_sign_in_of_a_clock_that_was_ahead_is_over(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """The clock of the laptop is put right: nobody stays in until that year."""
    right = clock()
    clock.move(days=900)
    tokens = [_start(store, clock, one) for one in (classroom.teacher, classroom.tablets[0])]
    assert NOBODY not in [actor_of(store, token, clock) for token in tokens]
    clock.time = right
    assert [NOBODY] * 2 == [actor_of(store, token, clock) for token in tokens]


def test_a_teacher_is_out_after_an_hour_without_use(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """Use within the hour keeps the sign-in, however many hours in a row, up to twelve."""
    token = _start(store, clock, classroom.teacher)
    for _ in range(12):
        clock.move(minutes=59)
        assert classroom.teacher_id == actor_of(store, token, clock).teacher_id
    clock.move(minutes=15)
    assert NOBODY == actor_of(store, token, clock)
    token = _start(store, clock, classroom.teacher)
    clock.move(minutes=61)
    assert NOBODY == actor_of(store, token, clock)


def test_a_tablet_is_out_after_ninety_minutes_without_use(
    store: Store, clock: StandingClock, classroom: Classroom
) -> None:
    """A double lesson does not end it, a school day does."""
    token = _start(store, clock, classroom.tablets[0])
    for _ in range(5):
        clock.move(minutes=89)
        assert classroom.group_ids[0] == actor_of(store, token, clock).group_id
    clock.move(minutes=40)
    assert NOBODY == actor_of(store, token, clock)


def test_an_unknown_token_is_nobody(store: Store, clock: StandingClock) -> None:
    """Whatever stands in the cookie, it opens nothing and breaks nothing."""
    assert [NOBODY] * 3 == [actor_of(store, text, clock) for text in ("", "x" * 9999, "\ud800")]
