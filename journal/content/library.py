"""The ready challenges: their TOML files in, Challenges out, read once."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from pathlib import Path

from journal.domain.challenge_documents import read_challenge
from journal.domain.challenges import Challenge
from journal.domain.errors import Invalid, NotFound


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
    message = "There is no such challenge. Choose one of the list."
    raise NotFound(message)


def read_challenge_file(path: Path) -> Challenge:
    """Read a challenge from a TOML file; raise Invalid naming the file and each key to mend."""
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        raise Invalid.at(path.name, f"{path.name}: no such file. Check its name.") from None
    except UnicodeDecodeError:
        raise Invalid.at(path.name, f"{path.name}: is not text. Save it as UTF-8.") from None
    return read_challenge_text(text, path.name)


def read_challenge_text(text: str, source: str) -> Challenge:
    """Read a challenge from TOML; `source` is the name of the file in messages."""
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        what = f"{source}: cannot be read as TOML: {error}. Mend that line."
        raise Invalid.at(source, what) from None
    return read_challenge(document, source)
