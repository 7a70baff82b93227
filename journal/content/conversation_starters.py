"""Openings for the teacher: what the trials point to comes in, three sentences go out."""

from __future__ import annotations

from journal.content.texts import get_texts, key_of
from journal.domain.diagnoses import Reading


def get_conversation_starters(
    reading: Reading, language: str, *, launches: bool
) -> tuple[str, ...]:
    """Return three openings."""
    kind = "launching" if launches else "loading"
    return get_texts("conversation_starters", language, key_of(reading), kind)
