"""A lesson word such as "copper-otter-472": two words and three digits.

The digits 0 and 1 are never used, so that nobody has to tell them from the letters o and l.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from journal.domain.errors import Invalid
from journal.domain.messages import Message

DIGITS = "23456789"
LONGEST_WORD = 24
#: Somebody may put a space between all letters.
LONGEST_TYPED = 60
#: The lesson word lasts this many hours at least and at most (our own choice: a school day).
LEAST_HOURS, MOST_HOURS = 1, 8
_HOURS = {str(hours): hours for hours in range(LEAST_HOURS, MOST_HOURS + 1)}
_DIGIT_COUNT = 3
_BETWEEN = re.compile(r"[\s_-]+")
_SHAPE = re.compile(rf"[^\W\d_]+[0-9]{{{_DIGIT_COUNT}}}")


def count_words(words: Sequence[str]) -> int:
    """Return how many different lesson words a list of words allows."""
    digits: int = len(DIGITS) ** _DIGIT_COUNT
    return len(words) * (len(words) - 1) * digits


def build_word(words: Sequence[str], number: int) -> str:
    """Return the lesson word with this number, counted from 0 up to `count_words(words) - 1`.

    Its two words are never the same: whoever hears it read aloud would think they misheard.
    """
    rest = number
    digits = ""
    for _ in range(_DIGIT_COUNT):
        rest, digit = divmod(rest, len(DIGITS))
        digits = DIGITS[digit] + digits
    first, second = divmod(rest, len(words) - 1)
    others = [*words[:first], *words[first + 1 :]]
    return f"{words[first]}-{others[second]}-{digits}"


def read_word(text: str) -> str:
    """Return a typed word without what stands between its parts, such as "copperotter472".

    What cannot be a lesson word comes back as an empty text: it opens no door.
    """
    if len(text) > LONGEST_TYPED:
        return ""
    typed = _BETWEEN.sub("", text.strip().lower())
    return typed if _SHAPE.fullmatch(typed) else ""


def read_hours(text: str) -> int:
    """Return how long a word shall last; raise Invalid beside the field `hours`."""
    if text not in _HOURS:
        raise Invalid.at(
            "hours",
            Message(
                "lesson_words.choose_from_to_hours", least_hours=LEAST_HOURS, most_hours=MOST_HOURS
            ),
        )
    return _HOURS[text]
