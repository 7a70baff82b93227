"""How wrong lesson words and passwords are counted, and how long one waits after too many.

A tally belongs to one key: a browser, a sign-in name, or all browsers that were never in before.
Up to a limit wrong entries cost nothing: seven-year-olds mistype. Then there is a pause, and each
further one is twice as long. The numbers are our own choice. Eight hours of guessing thus try some
3,000 of 1.8 x 10^7 lesson words, or 28,000 by whoever stays below the limit. The price: while
somebody guesses, a tablet that was never in before waits, until the teacher lets new ones try.

A browser is counted by an id that its new tokens leave as it is; a child with a word of its own
would else guess the next class's at full speed. A tally belongs to no school: whoever guesses has
not said yet to which.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from journal.domain.messages import Message

#: The growth of the pauses is forgotten when there was none, and nothing wrong, for this long.
FORGET_AFTER = timedelta(minutes=30)
LONGEST_PAUSE = timedelta(minutes=10)
#: So long strangers are not counted once a teacher has asked for it: time for a class of new
#: tablets to come in. At 300 tries a second that is one word found in 500 such times.
FREE_FOR = timedelta(minutes=2)
_MOST_DOUBLINGS = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """How many wrong entries are let pass, and the pause that follows."""

    #: Wrong entries up to the first pause, and after a pause up to the next one.
    free: int
    free_again: int
    first_pause: timedelta
    #: Only those within this time count together; None: all in a row, however slow.
    within: timedelta | None = None


#: One browser, or one sign-in name.
OWN_LIMIT = Limit(free=5, free_again=1, first_pause=timedelta(seconds=10))
#: Everybody whose browser was never in before, together: such a browser can throw its cookie away
#: and be another one, so nothing smaller holds it. Thirty children may mistype in one minute.
STRANGERS_LIMIT = Limit(
    free=60, free_again=60, first_pause=timedelta(seconds=30), within=timedelta(minutes=1)
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """What was counted for one key so far."""

    #: Wrong entries since `since`; after a pause that is its end.
    wrong: int
    since: datetime
    last_at: datetime
    pauses: int = 0
    paused_until: datetime | None = None
    #: Until then nothing is counted: a teacher has asked for it.
    free_until: datetime | None = None


def fresh_tally(now: datetime) -> Tally:
    """Return a tally of nothing."""
    return Tally(wrong=0, since=now, last_at=now)


def pause_left(tally: Tally | None, now: datetime) -> timedelta:
    """Return how long the key still waits; zero where it may try.

    A pause longer than the longest was begun by a clock that was wrong: it holds up nobody.
    """
    if tally is None or tally.paused_until is None:
        return timedelta(0)
    left = tally.paused_until - now
    return left if timedelta(0) < left <= LONGEST_PAUSE else timedelta(0)


def is_free(tally: Tally | None, now: datetime) -> bool:
    """Tell whether nothing is counted just now, because a teacher has asked for it."""
    until = None if tally is None else tally.free_until
    return until is not None and now < until <= now + FREE_FOR


def count_wrong(tally: Tally | None, limit: Limit, now: datetime) -> Tally:
    """Return the tally after one more wrong entry."""
    before = _forgotten(tally or fresh_tally(now), limit, now)
    if is_free(before, now):
        return before
    counted = replace(before, wrong=before.wrong + 1, last_at=now)
    if counted.wrong < _allowed(counted, limit):
        return counted
    pause = min(limit.first_pause * 2 ** min(before.pauses, _MOST_DOUBLINGS), LONGEST_PAUSE)
    until = now + pause
    return replace(counted, wrong=0, since=until, pauses=before.pauses + 1, paused_until=until)


def take_one_back(tally: Tally, limit: Limit) -> Tally:
    """Return the tally as if the last entry had not been counted: it was right after all."""
    if tally.wrong or not tally.pauses:
        return replace(tally, wrong=max(0, tally.wrong - 1))
    # That one had begun the pause.
    earlier = replace(tally, pauses=tally.pauses - 1, paused_until=None)
    return replace(earlier, wrong=_allowed(earlier, limit) - 1)


def describe_pause(left: timedelta) -> Message:
    """Say how long to wait, rounded up: "12 seconds", "3 minutes"."""
    seconds = max(1, -int(-left.total_seconds() // 1))
    if seconds < 120:  # noqa: PLR2004 (two minutes: below it seconds are easier to wait for)
        return Message("guesses.seconds", count=seconds)
    return Message("guesses.minutes", count=-(-seconds // 60))


def _allowed(tally: Tally, limit: Limit) -> int:
    return limit.free_again if tally.pauses else limit.free


def _forgotten(tally: Tally, limit: Limit, now: datetime) -> Tally:
    """Drop what is too old to count."""
    newest = tally.paused_until or tally.last_at
    # Far ahead as well: that was counted while the clock was wrong.
    if abs(now - newest) > FORGET_AFTER:
        return replace(fresh_tally(now), free_until=tally.free_until)
    if limit.within is not None and now - tally.since >= limit.within:
        return replace(tally, wrong=0, since=now)
    return tally
