"""How far a tablet's clock was off, in words for the teacher."""

from __future__ import annotations

from journal.domain.entry_times import CLOCK_TOLD_FROM_S

_SPANS = ((86_400, "day"), (3_600, "hour"), (60, "minute"))


def describe_clock(slow_s: int) -> str:
    """Return how far the clock was off; "" where it is not worth a word."""
    if abs(slow_s) < CLOCK_TOLD_FROM_S:
        return ""
    span_s, name = next(span for span in _SPANS if abs(slow_s) >= span[0])
    count = round(abs(slow_s) / span_s)
    which = "slow" if slow_s > 0 else "fast"
    span = name if count == 1 else f"{name}s"
    return f"the tablet’s clock was {count:,} {span} {which}, so the time was put right"
