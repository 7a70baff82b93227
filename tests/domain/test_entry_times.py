"""When an entry was made: what holds however wrong the clock of a tablet is."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.domain.entry_times import PRESENT_WITHIN, read_entry_time

RECEIVED = datetime(2030, 3, 4, 9, 30, tzinfo=UTC)
SPANS = st.timedeltas(timedelta(0), timedelta(days=30))
#: To about 2000 and 2199.
OFFSETS = st.timedeltas(timedelta(days=-11_000), timedelta(days=61_000))


@given(waited=SPANS, slow=OFFSETS)
def test_wrong_clock_moves_no_entry(waited: timedelta, slow: timedelta) -> None:
    """From 2000 to 2199: an entry is as old as it waited, and the error of the clock is kept."""
    sent_at = RECEIVED - slow

    time = read_entry_time(sent_at - waited, sent_at, RECEIVED)

    assert RECEIVED - waited == time.made_at
    assert abs(time.clock_slow_s - slow.total_seconds()) <= 0.5
    assert (waited > PRESENT_WITHIN) == time.is_late


@given(
    logged_at=OFFSETS.map(lambda off: RECEIVED + off),
    sent_at=st.none() | OFFSETS.map(lambda off: RECEIVED + off),
)
def test_nothing_is_made_after_it_came(logged_at: datetime, sent_at: datetime | None) -> None:
    """A clock set back while the entry waited, or one nobody can check, is believed that far."""
    assert read_entry_time(logged_at, sent_at, RECEIVED).made_at <= RECEIVED


@pytest.mark.parametrize("minutes", [0, 45])
def test_sender_without_a_clock_is_taken_at_its_word(minutes: int) -> None:
    """A page of before, or a form: the claim stands, and nothing is said of a clock."""
    claimed = RECEIVED - timedelta(minutes=minutes)

    time = read_entry_time(claimed, None, RECEIVED)

    assert (claimed, 0, minutes > 0) == (time.made_at, time.clock_slow_s, time.is_late)
