"""Moments as people in the room read them: on the clock of the machine the journal runs on."""

from __future__ import annotations

from datetime import date, datetime


def show_time(moment: datetime) -> str:
    """Return the time of day, such as 10:42."""
    return f"{moment.astimezone():%H:%M}"


def show_moment(moment: datetime) -> str:
    """Return day and time, such as 4 Mar 2030, 10:42: a table may run over many weeks."""
    local = moment.astimezone()
    return f"{local.day} {local:%b %Y, %H:%M}"


def show_day(day: datetime | date) -> str:
    """Return the day, such as 4 March 2030."""
    local = day.astimezone().date() if isinstance(day, datetime) else day
    return f"{local.day} {local:%B %Y}"


def minutes_between(earlier: datetime, later: datetime) -> int:
    """Return whole minutes from one moment to another; never less than 0."""
    return max(0, int((later - earlier).total_seconds() // 60))
