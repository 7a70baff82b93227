"""When the teacher was at a group: in the session that runs, and in words."""

from __future__ import annotations

from datetime import datetime

from journal.content.messages import word_message
from journal.content.shown_times import minutes_between, show_day
from journal.domain.group_records import GroupRecord
from journal.domain.messages import Message


def visit_in_session(record: GroupRecord) -> datetime | None:
    """Return when the group was last visited in the session that runs; None where it was not."""
    running = record.context.running
    if running is None or not record.visits:
        return None
    last = record.visits[-1].visited_at
    return last if last >= running.started_at else None


def minutes_since_visit(record: GroupRecord, now: datetime) -> int | None:
    """Return the minutes since the last visit of the session that runs."""
    last = visit_in_session(record)
    return None if last is None else minutes_between(last, now)


def describe_last_visit(record: GroupRecord, now: datetime) -> str:
    """Say how long ago the last visit was; outside a session, on which day."""
    minutes = minutes_since_visit(record, now)
    if minutes is not None:
        return word_message(
            Message("visits.min_since_your_visit", minutes=minutes), record.language
        )
    if record.context.running is None and record.visits:
        return f"Last visit {show_day(record.visits[-1].visited_at)}"
    return "Not visited yet"
