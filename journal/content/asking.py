"""Why the ladder asks as it does: a language in, facts for the teacher with their sources out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from journal.content.texts import find_entry


@dataclass(frozen=True, slots=True, kw_only=True)
class AskingFact:
    """One finding, what the journal makes of it, and where it was published."""

    key: str
    words: str
    source: str
    #: Figures of the study by name, their units in the names.
    figures: Mapping[str, float]


def get_asking_facts(language: str) -> tuple[AskingFact, ...]:
    """Return every fact, in the order in which they are told."""
    facts = find_entry("asking", language, "facts")
    return tuple(AskingFact(**fact) for fact in facts) if isinstance(facts, list) else ()
