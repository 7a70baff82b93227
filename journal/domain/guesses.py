"""How long one has to wait after entering something wrong again and again.

The first few times cost nothing: seven-year-olds mistype. After that each one doubles the pause.
The numbers are our own choice.
"""

from __future__ import annotations

from datetime import timedelta

FREE_GUESSES = 5
FIRST_PAUSE = timedelta(seconds=10)
LONGEST_PAUSE = timedelta(minutes=10)
#: Wrong entries are forgotten when nothing wrong was entered for this long.
FORGET_AFTER = timedelta(minutes=30)
_MOST_DOUBLINGS = 10


def pause_after(wrong: int) -> timedelta:
    """Return the pause that follows this many wrong entries in a row."""
    over = wrong - FREE_GUESSES
    if over < 0:
        return timedelta(0)
    doubled: int = 2 ** min(over, _MOST_DOUBLINGS)
    return min(FIRST_PAUSE * doubled, LONGEST_PAUSE)


def say_pause(left: timedelta) -> str:
    """Say how long to wait, rounded up: "12 seconds", "3 minutes"."""
    seconds = max(1, -int(-left.total_seconds() // 1))
    if seconds < 120:  # noqa: PLR2004 (two minutes: below it seconds are easier to wait for)
        return "1 second" if seconds == 1 else f"{seconds} seconds"
    return f"{-(-seconds // 60)} minutes"
