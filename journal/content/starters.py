"""Sentence starters and whole sentences to tap: a field and a band in, a short list out."""

from __future__ import annotations

from journal.content.texts import get_texts
from journal.domain.classes import GradeBand


def get_starters(field: str, band: GradeBand, language: str) -> tuple[str, ...]:
    """Return what can be tapped at a field; raise NotFound for a field without starters."""
    return get_texts("starters", language, field, band.value)
