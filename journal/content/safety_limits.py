"""The published limits for launches: a TOML file in, SafetyLimits out."""

from __future__ import annotations

import datetime as dt
import tomllib
from functools import cache
from importlib.resources import files

from journal.domain.documents import Reading, Table
from journal.domain.safety_limits import Evidence, LimitKey, SafetyLimit, SafetyLimits

_FILE = "safety_limits.toml"


@cache
def read_safety_limits() -> SafetyLimits:
    """Return the limits as shipped."""
    return parse_safety_limits((files("journal.content") / _FILE).read_text(encoding="utf-8"))


def parse_safety_limits(text: str) -> SafetyLimits:
    """Read limits from TOML; raise Invalid with everything that is wrong or missing."""
    reading = Reading(_FILE)
    document = Table(reading, tomllib.loads(text))
    scope = document.text("scope", "the line that is always printed with the limits")
    below_all = document.text("below_all", "the line printed where no limit is exceeded")
    found = [_read_limit(row) for row in document.tables("limits", "one table a limit")]
    document.finish()
    limits = {limit.key: limit for limit in found}
    for key in LimitKey:
        if key not in limits:
            reading.note("limits", f'has no {key.value}. Add a table with key = "{key.value}".')
    reading.finish()
    return SafetyLimits(scope=scope, below_all=below_all, limits=limits)


def _read_limit(row: Table) -> SafetyLimit:
    limit = SafetyLimit(
        key=row.choice("key", LimitKey),
        value=row.number("value", "the limit as a number above 0", above=0.0),
        unit=row.text("unit", "the unit of the value"),
        source=row.text("source", "where the value is published, and which part of it is meant"),
        evidence=row.choice("evidence", Evidence),
        edition_year=row.find_whole("edition_year", "the year of the edition"),
        reviewed_on=_read_date(row, "reviewed_on"),
    )
    row.finish()
    return limit


def _read_date(row: Table, key: str) -> dt.date:
    value = row.any_value(key)
    if isinstance(value, dt.date) and not isinstance(value, dt.datetime):
        return value
    row.note(key, "must be a date such as 2026-11-25, without quotation marks.")
    return dt.date.min
