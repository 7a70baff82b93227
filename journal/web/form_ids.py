"""Ids that come back from a form's tiles and lists."""

from __future__ import annotations

from collections.abc import Iterable
from uuid import UUID

from journal.domain.errors import Invalid


def read_id(text: str, field: str) -> UUID:
    """Return the id; raise Invalid beside the field where it is none."""
    try:
        return UUID(text)
    except ValueError:
        raise Invalid.at(field, "Choose one of those shown.") from None


def read_ids(texts: Iterable[str], field: str) -> list[UUID]:
    """Return the ids in their order; raise Invalid beside the field where one is none."""
    return [read_id(text, field) for text in texts]
