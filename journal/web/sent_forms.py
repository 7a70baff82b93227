"""Ids that a form may leave out: texts come in, ids come out where there are ids."""

from __future__ import annotations

from collections.abc import Iterable
from uuid import UUID


def find_id(text: str) -> UUID | None:
    """Return the id, or None where the text is empty or no id."""
    try:
        return UUID(text)
    except ValueError:
        return None


def find_ids(texts: Iterable[str]) -> tuple[UUID, ...]:
    """Return the ids among some texts, each once."""
    found = dict.fromkeys(find_id(text) for text in texts)
    return tuple(id_ for id_ in found if id_ is not None)
