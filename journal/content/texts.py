"""Texts of one noun in one language: a folder of TOML files in, plain nested values out.

Every folder under `journal/content/` holds one file a language, such as `ladders/en.toml`. Where a
language has no file yet, English stands in, so that a screen never stays empty.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from enum import Enum
from functools import cache
from importlib.resources import files
from string import Formatter
from typing import Any

from journal.domain.errors import NotFound

FALLBACK_LANGUAGE = "en"


@cache
def read_texts(noun: str, language: str) -> Mapping[str, Any]:
    """Return all texts of a noun; raise NotFound where the noun has none."""
    folder = files("journal.content") / noun
    for name in (language, FALLBACK_LANGUAGE):
        file = folder / f"{name}.toml"
        if name.isidentifier() and file.is_file():
            return tomllib.loads(file.read_text(encoding="utf-8"))
    message = f"There are no texts called {noun}."
    raise NotFound(message)


def find_entry(noun: str, language: str, *keys: str) -> object:
    """Return what stands under a path of keys, or None."""
    entry: object = read_texts(noun, language)
    for key in keys:
        entry = entry.get(key) if isinstance(entry, Mapping) else None
    return entry


def get_text(noun: str, language: str, *keys: str) -> str:
    """Return one text; raise NotFound naming the path where there is none."""
    entry = find_entry(noun, language, *keys)
    if not isinstance(entry, str):
        message = f"There is no text {'.'.join(keys)} in {noun}."
        raise NotFound(message)
    return entry


def get_texts(noun: str, language: str, *keys: str) -> tuple[str, ...]:
    """Return a list of texts; raise NotFound naming the path where there is none."""
    entry = find_entry(noun, language, *keys)
    if not isinstance(entry, list):
        message = f"There is no list {'.'.join(keys)} in {noun}."
        raise NotFound(message)
    return tuple(str(text) for text in entry)


def key_of(word: Enum) -> str:
    """Return the key of the text for a member of an enum: its name in small letters."""
    return word.name.lower()


def slots_of(text: str) -> frozenset[str]:
    """Return the names of the slots of a text, such as `factor` in "the {factor}"."""
    return frozenset(name for _, name, _, _ in Formatter().parse(text) if name)
