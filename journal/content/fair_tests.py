"""The fair-test card: a language and a band in, the steps of the talk out."""

from __future__ import annotations

from dataclasses import dataclass

from journal.content.texts import find_entry, get_text
from journal.domain.classes import GradeBand


@dataclass(frozen=True, slots=True, kw_only=True)
class CardStep:
    """One step with its minutes."""

    minutes: str
    head: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FairTestWords:
    """The card."""

    title: str
    lead: str
    steps: tuple[CardStep, ...]
    #: What stays on the wall, in the band's words.
    sentence: str


def get_fair_test_words(band: GradeBand, language: str) -> FairTestWords:
    """Return the card in the band's words."""
    steps = find_entry("fair_tests", language, "steps")
    return FairTestWords(
        title=get_text("fair_tests", language, "title"),
        lead=get_text("fair_tests", language, "lead"),
        steps=tuple(CardStep(**step) for step in steps) if isinstance(steps, list) else (),
        sentence=get_text("fair_tests", language, "sentence", band.value),
    )
