"""A teacher's wording is in force from the moment it was set, and names nobody."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest

from journal.domain.ladder_texts import LadderText, find_named, find_text
from journal.domain.ladders import Rung

NINE = datetime(2030, 3, 4, 9, 0, tzinfo=UTC)
USUAL = {"will", "what", "do", "you", "see", "mark"}


def _text(text: str, minute: int, rung: Rung = Rung.NOTICE) -> LadderText:
    at = NINE + timedelta(minutes=minute)
    return LadderText(class_id=uuid4(), rung=rung, text=text, set_at=at)


@pytest.mark.parametrize(
    ("minute", "expected"), [(0, ""), (1, "First?"), (4, "First?"), (5, "Second?"), (9, "")]
)
def test_the_wording_is_the_one_that_was_set_last(minute: int, expected: str) -> None:
    """As of a moment; going back to the journal's words is a setting too."""
    texts = [_text("First?", 1), _text("Other?", 2, Rung.AIM), _text("Second?", 5), _text("", 8)]
    assert expected == find_text(texts, Rung.NOTICE, NINE + timedelta(minutes=minute))


def test_without_a_moment_it_is_what_holds_now() -> None:
    """And nothing for a rung that was never worded."""
    texts = [_text("First?", 1), _text("Second?", 5)]
    assert "Second?" == find_text(texts, Rung.NOTICE)
    assert "" == find_text(texts, Rung.AIM)


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("What did Ada see?", "Ada"),
        ("What did ada see?", "Ada"),
        ("ADA, what did you see?", "Ada"),
        ("Which is Ada's dart?", "Ada"),
        ("Which is Ada\u2019s dart?", "Ada"),
        ("What did Ben see?", "Ben 2"),
        ("Is it Zoe\u0308?", "Zoë"),
        ("Did Mary-Ann see it?", "Mary-Ann"),
        ("Is Adam there?", None),
        ("What is on the table?", None),
        ("Is the crayon there?", None),
        ("", None),
    ],
)
def test_a_nickname_is_found_as_a_word(text: str, named: str | None) -> None:
    """In whatever case, but not inside another word; a number of the roster is no name."""
    assert named == find_named(text, ["Ada", "Ben 2", "Zoë", "Mary-Ann", "Ray", "7"], USUAL)


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("What will you see?", None),
        ("Will you see it?", None),
        ("What do you see? Will it last?", None),
        ("“Will it last?”", None),
        ("What did Will see?", "Will"),
        ("What of each mark?", None),
        ("What does Mark see?", "Mark"),
        ("Look, Mark: what is it?", "Mark"),
    ],
)
def test_a_nickname_that_is_a_usual_word_may_be_that_word(text: str, named: str | None) -> None:
    """A class with a Will is still asked "will"."""
    assert named == find_named(text, ["Will", "Mark"], USUAL)
