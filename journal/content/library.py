"""The ready challenges: their TOML files in, Challenges out, read once."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files

from journal.domain.challenge_documents import read_challenge
from journal.domain.challenges import Challenge
from journal.domain.errors import Invalid, NotFound
from journal.domain.messages import Message


@cache
def ready_challenges() -> tuple[Challenge, ...]:
    """Return the challenges that come with the journal, by title."""
    folder = files("journal.content") / "challenges"
    found = [
        read_challenge_text(file.read_text(encoding="utf-8"), file.name)
        for file in folder.iterdir()
        if file.name.endswith(".toml")
    ]
    return tuple(sorted(found, key=lambda challenge: challenge.title))


def get_ready_challenge(key: str) -> Challenge:
    """Return a ready challenge by its key; raise NotFound where there is none."""
    for challenge in ready_challenges():
        if challenge.key == key:
            return challenge
    message = Message("library.no_such_challenge")
    raise NotFound(message)


def read_challenge_text(text: str, source: str) -> Challenge:
    """Read a challenge from TOML; `source` is the name of the file in messages."""
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        what = Message("library.cannot_be_read_as_toml", source=source, error=str(error))
        raise Invalid.at(source, what) from None
    return read_challenge(document, source)
