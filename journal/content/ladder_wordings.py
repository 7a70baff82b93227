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
from journal.domain.messages import Message

_WORD = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*")


def find_fault(text: str, language: str, *, slots: Collection[str] = ()) -> Message | None:
    """Return what is to be mended in a question, as a sentence; None where all is well.

    `slots` are the names that may stand in braces.
    """
    if "?" not in text or not _WORD.search(text):
        return Message("ladder_wordings.asks_nothing_yet")
    if len(text) > MOST_LETTERS:
        return Message(
            "ladder_wordings.is_letters_long", count=len(text), most_letters=MOST_LETTERS
        )
    return _find_brace(text, slots) or find_telling(text, language)


def find_telling(text: str, language: str) -> Message | None:
    """Return which word or number of a text tells what to do, as a sentence; None for none."""
    words = [word for token in _WORD.findall(text.lower()) for word in (token, *token.split("-"))]
    telling = next((word for word in words if word in _telling_words(language)), None)
    if telling is not None:
        return Message("ladder_wordings.word_tells_what_to_do", telling=telling)
    if any(sign.isnumeric() for sign in text):
        return Message("ladder_wordings.number_tells_what_to_do")
    return None


def _find_brace(text: str, slots: Collection[str]) -> Message | None:
    for slot in slots:
        text = text.replace(f"{{{slot}}}", "")
    if not set("{}") & set(text):
        return None
    if not slots:
        return Message("ladder_wordings.leave_out_the_braces")
    named = tuple(f"{{{slot}}}" for slot in slots)
    return Message("ladder_wordings.only_can_be_filled", named=named)


@cache
def _telling_words(language: str) -> frozenset[str]:
    return frozenset(get_text("telling_words", language, "words").split())
