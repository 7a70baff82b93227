"""A teacher's own wording of a rung, for one class, and what such a wording may not hold."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from journal.domain.ladders import Rung

#: What a question may take; an answer keeps it as it was put.
MOST_LETTERS = 400
_WORD = re.compile(r"[^\W\d_]+")
_OPENING = re.compile(r"(?:^|[.?!:…]\W*\s)\W*$")


@dataclass(frozen=True, slots=True, kw_only=True)
class LadderText:
    """The question that a rung puts in one class from a moment on, before the journal's own."""

    class_id: UUID
    rung: Rung
    #: "" where the teacher went back to the journal's words.
    text: str
    set_at: datetime


def find_text(texts: Iterable[LadderText], rung: Rung, at: datetime | None = None) -> str:
    """Return the wording of a rung in force at a moment, now without one; "" for none.

    `texts` stand in the order in which they were set.
    """
    found = [text.text for text in texts if text.rung is rung and (at is None or text.set_at <= at)]
    return found[-1] if found else ""


def find_named(text: str, nicknames: Iterable[str], usual_words: Collection[str]) -> str | None:
    """Return the first nickname that a text holds, in whatever case, or None.

    `usual_words`, in small letters, are words of every question: one of them is a name only where
    a capital stands inside a sentence, so that a class with a Will may still be asked "will".
    """
    text = unicodedata.normalize("NFC", text)
    for nickname in nicknames:
        # "Ben 2" tells two of a name apart; the name is "Ben".
        words = " ".join(_WORD.findall(nickname))
        if not words:
            continue
        spelled = r"\W+".join(map(re.escape, words.split()))
        for hit in re.finditer(rf"(?<!\w){spelled}(?!\w)", text, re.IGNORECASE):
            if hit[0].lower() not in usual_words or _is_capital_inside(text, hit.start()):
                return nickname
    return None


def _is_capital_inside(text: str, start: int) -> bool:
    return text[start].isupper() and _OPENING.search(text[:start]) is None
