"""A lesson word such as "copper-47": what was typed comes in, the word as it is kept goes out.

The digits 0 and 1 are never used, so that nobody has to tell them from the letters o and l.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from journal.domain.errors import Invalid

DIGITS = "23456789"
LONGEST_WORD = 24
#: The lesson word lasts this many hours at least and at most (our own choice: a school day).
LEAST_HOURS, MOST_HOURS = 1, 8
_HOURS = {str(hours): hours for hours in range(LEAST_HOURS, MOST_HOURS + 1)}
_SHAPE = re.compile(r"([^\W\d_]+)[\s_-]*(\d{2})")


def count_words(words: Sequence[str]) -> int:
    """Return how many different lesson words a list of words allows."""
    return len(set(words)) * len(DIGITS) ** 2


def build_word(words: Sequence[str], number: int) -> str:
    """Return the lesson word with this number, counted from 0 up to `count_words(words) - 1`."""
    place, pair = divmod(number, len(DIGITS) ** 2)
    first, second = divmod(pair, len(DIGITS))
    return f"{words[place]}-{DIGITS[first]}{DIGITS[second]}"


def read_word(text: str) -> str:
    """Return the word as it is kept, however it was typed ("Copper 47", "copper47").

    What cannot be a lesson word comes back as an empty text: it opens no door.
    """
    typed = text.strip().lower()
    if len(typed) > LONGEST_WORD:
        return ""
    found = _SHAPE.fullmatch(typed)
    return f"{found[1]}-{found[2]}" if found else ""


def read_hours(text: str) -> int:
    """Return how long a word shall last; raise Invalid beside the field `hours`."""
    if text not in _HOURS:
        raise Invalid.at("hours", f"Choose from {LEAST_HOURS} to {MOST_HOURS} hours.")
    return _HOURS[text]
