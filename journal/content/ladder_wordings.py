"""What every question of the ladder keeps to: a text in, the first thing to mend out, or None.

A question asks; it names no value, no direction and no remedy. The ladders that come with the
journal and a teacher's own words are held to the same rules.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from functools import cache

from journal.content.texts import get_text
from journal.domain.ladder_texts import MOST_LETTERS

_WORD = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*")


def find_fault(text: str, language: str, *, slots: Collection[str] = ()) -> str | None:
    """Return what is to be mended in a question, as a sentence; None where all is well.

    `slots` are the names that may stand in braces.
    """
    if "?" not in text or not _WORD.search(text):
        return "This asks nothing yet: it needs words and a question mark."
    if len(text) > MOST_LETTERS:
        return f"This is {len(text)} letters long. Ask it in {MOST_LETTERS} at most."
    return _find_brace(text, slots) or find_telling(text, language)


def find_telling(text: str, language: str) -> str | None:
    """Return which word or number of a text tells what to do, as a sentence; None for none."""
    told = [word for token in _WORD.findall(text.lower()) for word in (token, *token.split("-"))]
    telling = next((word for word in told if word in _telling_words(language)), None)
    if telling is not None:
        return f"The word “{telling}” tells what to do. A question only asks."
    if any(sign.isnumeric() for sign in text):
        return "A number tells what to do. A question only asks."
    return None


def _find_brace(text: str, slots: Collection[str]) -> str | None:
    for slot in slots:
        text = text.replace(f"{{{slot}}}", "")
    if not set("{}") & set(text):
        return None
    if not slots:
        return "Leave out the braces { and }: nothing is filled in here."
    *others, last = [f"{{{slot}}}" for slot in slots]
    named = f"{', '.join(others)} and {last}" if others else last
    return f"Only {named} can be filled."


@cache
def _telling_words(language: str) -> frozenset[str]:
    return frozenset(get_text("telling_words", language, "words").split())
