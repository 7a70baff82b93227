"""How far a tablet's clock was off, in words for the teacher."""

from __future__ import annotations

from journal.content.messages import word_message
from journal.domain.entry_times import CLOCK_TOLD_FROM_S
from journal.domain.messages import Message

_SPANS_S = {"days": 86_400, "hours": 3_600, "minutes": 60}


def describe_clock(slow_s: int, language: str) -> str:
    """Return how far the clock was off; "" where it is not worth a word."""
    if abs(slow_s) < CLOCK_TOLD_FROM_S:
        return ""
    span = _describe_span(abs(slow_s))
    message = (
        Message("clock_words.clock_was_slow", span=span)
        if slow_s > 0
        else Message("clock_words.clock_was_fast", span=span)
    )
    return word_message(message, language)


def _describe_span(span_s: int) -> Message:
    name = next(name for name, least_s in _SPANS_S.items() if span_s >= least_s)
    count = round(span_s / _SPANS_S[name])
    shown = f"{count:,}"
    if name == "days":
        return Message("clock_words.days", count=count, shown=shown)
    if name == "hours":
        return Message("clock_words.hours", count=count, shown=shown)
    return Message("clock_words.minutes", count=count, shown=shown)
