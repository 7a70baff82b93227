"""The pause after wrong entries."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.content.messages import word_message
from journal.domain.guesses import (
    LONGEST_PAUSE,
    OWN_LIMIT,
    STRANGERS_LIMIT,
    Limit,
    Tally,
    count_wrong,
    describe_pause,
    is_free,
    pause_left,
    take_one_back,
)

START = datetime(2030, 3, 4, 9, 0, tzinfo=UTC)
SECOND = timedelta(seconds=1)


def _pauses(limit: Limit, tries: int, between: timedelta) -> list[float]:
    """Return the length of each pause that a patient guesser meets, in seconds."""
    tally: Tally | None = None
    now = START
    pauses = []
    for _ in range(tries):
        tally = count_wrong(tally, limit, now)
        left = pause_left(tally, now)
        if left:
            pauses.append(left.total_seconds())
        now += max(between, left)
    return pauses


def test_the_first_wrong_entries_cost_nothing() -> None:
    """A child who mistypes four times goes on at once; the fifth brings a pause."""
    assert [] == _pauses(OWN_LIMIT, 4, SECOND)
    assert [10] == _pauses(OWN_LIMIT, 5, SECOND)


def test_each_further_one_doubles_the_pause_up_to_a_limit() -> None:
    """The pause doubles and then stays, however long somebody goes on."""
    pauses = _pauses(OWN_LIMIT, 400, SECOND)
    assert [10, 20, 40] == pauses[:3]
    assert LONGEST_PAUSE.total_seconds() == pauses[-1]
    assert all(one <= other for one, other in pairwise(pauses))


def test_strangers_have_sixty_a_minute_and_then_growing_pauses() -> None:
    """Sixty within a minute are let pass, one a second and a little never end in a pause."""
    assert [] == _pauses(STRANGERS_LIMIT, 59, SECOND / 100)
    assert [30, 60, 120, 240] == _pauses(STRANGERS_LIMIT, 240, SECOND / 100)
    assert [] == _pauses(STRANGERS_LIMIT, 2000, timedelta(seconds=1.02))


def test_a_school_day_of_guessing_is_held_to_few_tries() -> None:
    """Eight hours at full speed: some 3,000 words, where 18 million are possible."""
    tally: Tally | None = None
    now, tries = START, 0
    while now < START + timedelta(hours=8):
        tally = count_wrong(tally, STRANGERS_LIMIT, now)
        tries += 1
        now += max(SECOND / 300, pause_left(tally, now))
    assert 2_000 < tries < 4_000


def test_half_an_hour_without_a_pause_starts_anew() -> None:
    """The next pause is a short one again."""
    tally: Tally | None = None
    now = START
    for _ in range(8):
        tally = count_wrong(tally, OWN_LIMIT, now)
        now += pause_left(tally, now)
    now += timedelta(minutes=31)
    for _ in range(4):
        tally = count_wrong(tally, OWN_LIMIT, now)
        assert not pause_left(tally, now)
    assert OWN_LIMIT.first_pause == pause_left(count_wrong(tally, OWN_LIMIT, now), now)


def test_a_clock_that_was_years_ahead_holds_up_nobody_and_frees_nobody() -> None:
    """A laptop that started in another year and was put right goes on as if nothing had been."""
    ahead = START + timedelta(days=900)
    tally = count_wrong(None, OWN_LIMIT, ahead)
    for _ in range(8):
        tally = count_wrong(tally, OWN_LIMIT, ahead)
    assert pause_left(tally, ahead)
    assert not pause_left(tally, START)
    again = count_wrong(replace(tally, free_until=ahead), OWN_LIMIT, START)
    assert (1, 0) == (again.wrong, again.pauses)
    assert not is_free(again, START)
    assert is_free(again, ahead - SECOND)


@given(st.integers(0, 400), st.sampled_from([OWN_LIMIT, STRANGERS_LIMIT]))
def test_what_is_taken_back_was_never_counted(before: int, limit: Limit) -> None:
    """A right entry leaves count and pauses as they were, even where it had begun a pause."""
    now = START
    tally = count_wrong(None, limit, now)
    for _ in range(before):
        now += max(SECOND / 100, pause_left(tally, now))
        tally = count_wrong(tally, limit, now)
    now += max(SECOND / 100, pause_left(tally, now))
    again = take_one_back(count_wrong(tally, limit, now), limit)
    assert not pause_left(again, now)
    assert again.pauses == tally.pauses
    assert count_wrong(again, limit, now).wrong == count_wrong(tally, limit, now).wrong


@pytest.mark.parametrize(
    ("seconds", "said"),
    [
        (0.2, "1 second"),
        (1.0, "1 second"),
        (11.2, "12 seconds"),
        (119, "119 seconds"),
        (120, "2 minutes"),
        (121, "3 minutes"),
    ],
)
def test_the_pause_is_said_in_words_and_never_too_short(seconds: float, said: str) -> None:
    """Whoever waits as long as it says has waited long enough."""
    assert said == word_message(describe_pause(timedelta(seconds=seconds)))
