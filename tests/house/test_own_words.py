"""Screens have words of their own: one word for keeping, and no other room's usual phrases."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
#: What stands between tags, in attributes that are read out, and in the arguments of macros.
SHOWN = re.compile(r">([^<>{}]+)<|\"([^\"<>{}]+)\"")
SCREENS = sorted((ROOT / "templates").rglob("*.html"))
SCRIPTS = sorted((ROOT / "journal/web/static/scripts").glob("*.js"))
#: Entries are kept; a device that opens a form or goes on needs no such word.
OTHER_WORDS = re.compile(r"\b(?:saved?|saving|submit|confirm|apply|okay|ok)\b", re.IGNORECASE)
USUAL_PHRASES = re.compile(r"\bI am (?:the|a) (?:teacher|student)\b|\bdraw it\b", re.IGNORECASE)


def _shown(path: Path) -> list[str]:
    """Return what a reader may see; single lower-case words are names of values."""
    found = [one or other for one, other in SHOWN.findall(path.read_text("utf-8"))]
    return [text for text in found if " " in text or not text.islower()]


@pytest.mark.parametrize("path", [*SCREENS, *SCRIPTS], ids=lambda path: path.name)
def test_a_screen_speaks_with_the_words_of_the_house(path: Path) -> None:
    """The one word for entries is "Keep"."""
    for text in _shown(path):
        assert not OTHER_WORDS.search(text), text
        assert not USUAL_PHRASES.search(text), text


def test_the_fair_test_card_has_an_example_of_its_own() -> None:
    """What the talk needs is named first and used in it; no balls and ramps."""
    text = (ROOT / "journal/content/fair_tests/en.toml").read_text("utf-8")
    card = tomllib.loads(text)
    assert not re.search(r"\b(?:ramp|ball|roll)", text, re.IGNORECASE)
    first = card["steps"][0]["words"]
    for thing in ("timer", "wool hat", "paper"):
        assert thing in card["lead"]
        assert thing in first
