"""The rungs in words: a rung in, its short name beside the ladder or what it is for out."""

from __future__ import annotations

from journal.content.texts import get_text
from journal.domain.ladders import Rung


def get_rung_name(rung: Rung, language: str) -> str:
    """Return the rung's name."""
    return get_text("rungs", language, "names", rung.value)


def get_rung_purpose(rung: Rung, language: str) -> str:
    """Return what the rung is for, for the teacher."""
    return get_text("rung_purposes", language, "purposes", rung.value)
