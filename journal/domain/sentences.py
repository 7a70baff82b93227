"""What a child tapped and wrote: a starter and own words come in, one clean sentence goes out."""

from __future__ import annotations

from journal.domain.errors import Problem
from journal.domain.messages import Message

#: How much a table keeps of one sentence, starter and words together.
MOST_LETTERS = 600


def join_sentence(starter: str, words: str) -> str:
    """Return starter and own words as one text, without what cannot be read or kept."""
    return " ".join(part for part in (clean_words(starter), clean_words(words)) if part)


def clean_words(text: str) -> str:
    """Return a text without control characters and lone surrogates; line ends become spaces."""
    kept = "".join(sign if sign.isprintable() else " " for sign in text)
    return " ".join(kept.split())


def find_problem(field: str, text: str, most: int = MOST_LETTERS) -> Problem | None:
    """Return what is wrong with a text that is too long, or None."""
    if len(text) <= most:
        return None
    what = Message("sentences.is_letters_long", count=len(text), most=most)
    return Problem(field, what)
