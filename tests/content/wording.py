"""What the tests of texts look for: words to keep out, sentences and how long they are."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.resources import files


def _words_in(text: str) -> frozenset[str]:
    return frozenset(text.split())


#: Words that name a value, a direction or a remedy: a question must hold none of them.
TELLING_WORDS = _words_in(
    """
    more less fewer longer shorter larger smaller bigger heavier lighter higher lower wider narrower
    thicker thinner stronger weaker stiffer softer harder faster slower tighter looser steeper
    flatter closer nearer farther further better worse too enough
    up down left right above below
    increase decrease reduce raise lengthen shorten widen strengthen weaken tighten loosen
    add remove use replace swap cut double halve try make put take should must ought need fix
    one-half half full zero two three four five six seven eight nine ten hundred percent
    """
)

#: Words for weapons and for what is not said of children's work.
UNWANTED_WORDS = _words_in(
    """
    weapon weapons shoot shoots shooting shot shots target targets fire fires gun guns arrow arrows
    bullet bullets enemy attack safe unsafe safely
    winner winners win loser fail fails failed failing failure wrong
    """
)

_WORD = re.compile(r"[\w'’.,-]*\w")


def words_of(text: str) -> list[str]:
    """Return the words of a text, small, without marks around them."""
    return [word.lower() for word in _WORD.findall(text)]


def sentences_of(text: str) -> list[str]:
    """Return the sentences of a text, without their ends."""
    parts = re.split(r"(?<=[.?!])\s+", text.strip())
    return [part.rstrip(".?!:").strip() for part in parts if part.strip()]


def strings_in(entry: object) -> Iterator[str]:
    """Yield every text inside nested tables and lists."""
    if isinstance(entry, str):
        yield entry
    elif isinstance(entry, dict):
        for value in entry.values():
            yield from strings_in(value)
    elif isinstance(entry, list):
        for value in entry:
            yield from strings_in(value)


def toml_texts() -> dict[str, str]:
    """Return every TOML file that comes with the journal, by its name inside the content."""
    found = {}
    for entry in files("journal.content").iterdir():
        inside = list(entry.iterdir()) if entry.is_dir() else [entry]
        for file in inside:
            if file.name.endswith(".toml"):
                found[f"{entry.name}/{file.name}"] = file.read_text(encoding="utf-8")
    return found
