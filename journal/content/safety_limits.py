"""The published limits for launches: a TOML file in, SafetyLimits out."""

from __future__ import annotations

import datetime as dt
import tomllib
from functools import cache
from importlib.resources import files

from journal.domain.documents import Reading, Table
from journal.domain.messages import Message
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
    scope = document.text(
        "scope", Message("safety_limits.line_that_is_always_printed_with_the_limits")
    )
    below_all = document.text(
        "below_all", Message("safety_limits.line_printed_where_no_limit_is_exceeded")
    )
    found = [
        _read_limit(row)
        for row in document.tables("limits", Message("safety_limits.one_table_a_limit"))
    ]
    document.finish()
    limits = {limit.key: limit for limit in found}
    for key in LimitKey:
        if key not in limits:
            reading.note("limits", Message("safety_limits.has_no", key=key.value))
    reading.finish()
    return SafetyLimits(scope=scope, below_all=below_all, limits=limits)


def _read_limit(row: Table) -> SafetyLimit:
    limit = SafetyLimit(
        key=row.choice("key", LimitKey),
        value=row.number("value", Message("safety_limits.limit_as_a_number_above_0"), above=0.0),
        unit=row.text("unit", Message("safety_limits.unit_of_the_value")),
        source=row.text("source", Message("safety_limits.where_the_value_is_published")),
        evidence=row.choice("evidence", Evidence),
        edition_year=row.find_whole("edition_year", Message("safety_limits.year_of_the_edition")),
        reviewed_on=_read_date(row, "reviewed_on"),
    )
    row.finish()
    return limit


def _read_date(row: Table, key: str) -> dt.date:
    value = row.any_value(key)
    if isinstance(value, dt.date) and not isinstance(value, dt.datetime):
        return value
    row.note(key, Message("safety_limits.must_be_a_date_such_as_2026_11"))
    return dt.date.min
