"""What the teacher reads on the pages of sessions: a text's path in, its words out."""

from __future__ import annotations

from journal.content.texts import get_text


def get_session_text(language: str, *keys: str, **figures: str | int) -> str:
    """Return a text with its figures put in."""
    return get_text("sessions", language, *keys).format(**figures)
