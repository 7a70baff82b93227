"""When an entry was made, by our clock: what a tablet's clock says comes in, an EntryTime goes out.

A tablet sends when the entry was made and, each time it sends, what its clock says now. Both come
from the same clock, so their difference is right however wrong that clock is.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

#: An entry that waited longer on its tablet comes late; shorter ones are held up by the network as
#: usual (our own choice: one answer that is not heard, and the pauses of a few more sendings).
PRESENT_WITHIN = timedelta(seconds=60)
#: A clock that is off by less is not worth a word (our own choice).
CLOCK_TOLD_FROM_S = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class EntryTime:
    """When an entry was made, put right by how far the tablet's clock is off."""

    made_at: datetime
    #: How much the tablet's clock is behind ours (fast: negative), in whole seconds.
    clock_slow_s: int
    #: Whether it waited on the tablet before it came.
    is_late: bool


def read_entry_time(
    logged_at: datetime, sent_at: datetime | None, received_at: datetime
) -> EntryTime:
    """Return when the entry was made; `sent_at` is None where the sender has no clock of its own.

    Nothing is made after it was received: a clock that was set back while the entry waited, or
    that nobody can check, is believed no further than that.
    """
    if sent_at is None:
        made_at = min(logged_at, received_at)
        slow = made_at - logged_at
    else:
        made_at = received_at - max(sent_at - logged_at, timedelta())
        slow = received_at - sent_at
    return EntryTime(
        made_at=made_at,
        clock_slow_s=round(slow.total_seconds()),
        is_late=received_at - made_at > PRESENT_WITHIN,
    )
