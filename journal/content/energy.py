"""The words for a launch's energy beside published limits, for the teacher only."""

from __future__ import annotations

from journal.content.texts import get_text
from journal.domain.safety_limits import Evidence, LimitKey


def describe_code(code: str, language: str, limit: str) -> str:
    """Return what a code means; `limit` is the limit with its unit."""
    return get_text("energy", language, "codes", code).format(limit=limit)


def describe_notice(notice: str, language: str, limit: str) -> str:
    """Return a further line; `limit` is the limit with its unit."""
    return get_text("energy", language, "notices", notice).format(limit=limit)


def get_note(key: str, language: str) -> str:
    """Return what a missing quantity leaves open."""
    return get_text("energy", language, "notes", key)


def describe_room(key: str, language: str, **figures: str) -> str:
    """Return a line about students and floor."""
    return get_text("energy", language, "room", key).format(**figures)


def describe_evidence(evidence: Evidence, language: str, day: str) -> str:
    """Say in one sentence how a value came to be known, and when."""
    return get_text("energy", language, "evidence", evidence.value).format(day=day)


def get_limit_name(key: LimitKey, language: str) -> str:
    """Return what a limit is called."""
    return get_text("energy", language, "limits", key.value)
