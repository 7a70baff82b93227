"""A code of a published standard, what it asks in our own words, and what shows it."""

from __future__ import annotations

from dataclasses import dataclass

from journal.domain.classes import GradeBand


@dataclass(frozen=True, slots=True, kw_only=True)
class Standard:
    """One performance expectation: its code is published, its words here are a paraphrase."""

    code: str
    band: GradeBand
    paraphrase: str
    #: What the journal can show as evidence.
    evidence: str
    #: Codes of other standards that the publisher links with it.
    links: tuple[str, ...] = ()
    source: str = ""
