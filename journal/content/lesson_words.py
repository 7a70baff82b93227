"""The words that lesson words are made of: a language in, its list out."""

from __future__ import annotations

from journal.content.texts import get_texts


def get_lesson_words(language: str) -> tuple[str, ...]:
    """Return the words of a language."""
    return get_texts("lesson_words", language, "words")
