"""What the board says: a text's key in, its words out."""

from __future__ import annotations

from journal.content.texts import get_text


def get_board_text(language: str, key: str, **values: str | int) -> str:
    """Return a text with its values put in."""
    return get_text("boards", language, key).format(**values)
