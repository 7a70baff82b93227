"""Patterns of designing: a pattern and figures in, a sign and a question for the teacher out."""

from __future__ import annotations

from dataclasses import dataclass

from journal.content.texts import get_text
from journal.domain.design_patterns import DesignPattern


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternWords:
    """A pattern, what the log shows of it, and a question to begin with."""

    name: str
    sign: str
    ask: str


def get_pattern_words(pattern: DesignPattern, language: str, **figures: int) -> PatternWords:
    """Return the words of a pattern with the group's figures in them."""
    texts = {
        key: get_text("design_patterns", language, pattern.value, key)
        for key in ("name", "sign", "ask")
    }
    return PatternWords(**texts | {"sign": texts["sign"].format(**figures)})
