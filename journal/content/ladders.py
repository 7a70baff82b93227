"""The questions of the ladder: a rung and a band in, one Question out, its slots to be filled.

A question may name a factor that the group itself changed; never a value, a direction or a remedy.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from journal.content.texts import find_entry, get_text, get_texts, slots_of
from journal.domain.classes import GradeBand
from journal.domain.ladders import Rung

_SLOT = re.compile(r"\{(factor|old|new)\}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A question as it is put: what is read, what can be tapped, what is spoken."""

    text: str
    starters: tuple[str, ...]
    aloud: str
    #: The wording for a group that changed nothing yet.
    plain: str


def get_question(rung: Rung, band: GradeBand, language: str) -> Question:
    """Return the question of a rung in a band's words, with its slots still open."""
    text = get_text("ladders", language, rung.value, band.value, "text")
    plain = find_entry("ladders", language, rung.value, band.value, "plain")
    aloud = find_entry("ladders", language, rung.value, band.value, "aloud")
    return Question(
        text=text,
        starters=get_texts("ladders", language, rung.value, band.value, "starters"),
        aloud=str(aloud) if aloud else text,
        plain=str(plain) if plain else text,
    )


def fill_question(
    question: Question, factor: str | None = None, old: str | None = None, new: str | None = None
) -> Question:
    """Return the question with the group's own factor and revisions in it.

    Where a slot has nothing to hold, because the group changed nothing, the plain wording is put.
    """
    given = {"factor": _inside(factor), "old": (old or "").strip(), "new": (new or "").strip()}
    text = question.text
    aloud = question.aloud
    if any(not given[slot] for slot in slots_of(text)):
        text = aloud = question.plain
    return replace(question, text=_fill(text, given), aloud=_fill(aloud, given))


def _fill(text: str, given: dict[str, str]) -> str:
    """Put values into slots in one pass: a brace in a child's own label is not a slot."""
    return _SLOT.sub(lambda slot: given[slot[1]], text)


def _inside(name: str | None) -> str:
    """Return a factor's name as it stands inside a sentence: "the rail length"."""
    name = (name or "").strip()
    return name[:1].lower() + name[1:]
