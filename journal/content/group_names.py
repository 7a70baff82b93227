"""Names for new groups: a language in, its list out."""

from __future__ import annotations

from journal.content.texts import get_texts


def get_group_names(language: str) -> tuple[str, ...]:
    """Return the names in the order they are given out."""
    return get_texts("group_names", language, "names")
