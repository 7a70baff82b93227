"""Words of the pages on which a class is made."""

from __future__ import annotations

from journal.content.texts import get_text


def get_retention_hint(language: str) -> str:
    """Return why this date is proposed, and what happens on it."""
    return get_text("class_words", language, "retention")
