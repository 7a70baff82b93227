"""The short names of the rungs: a rung in, its name beside the ladder out."""

from __future__ import annotations

from journal.content.texts import get_text
from journal.domain.ladders import Rung


def get_rung_name(rung: Rung, language: str) -> str:
    """Return the rung's name."""
    return get_text("rungs", language, "names", rung.value)
