"""The words of physics: the story of the energy for young bands, questions, what bounds mean."""

from __future__ import annotations

from journal.content.texts import get_text, get_texts
from journal.domain.classes import GradeBand


def get_story(kind: str, band: GradeBand, language: str) -> tuple[str, ...]:
    """Return where the energy goes, step by step and without a number, for bands 2 and 3-5."""
    return get_texts("physics", language, "story", kind, band.value)


def get_question(band: GradeBand, language: str) -> str:
    """Return the heading of the page."""
    return get_text("physics", language, "question", band.value)


def get_kind_name(kind: str, language: str) -> str:
    """Return what a kind of calculation is called."""
    return get_text("physics", language, "kinds", kind)


def get_bound_line(kind: str, language: str) -> str:
    """Return what the results can and cannot say."""
    return get_text("physics", language, "bound", kind)
