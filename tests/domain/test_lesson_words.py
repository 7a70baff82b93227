"""Lesson words: how one is built, typed, and how long it lasts."""

from __future__ import annotations

import pytest

from journal.domain.errors import Invalid
from journal.domain.lesson_words import build_word, count_words, read_hours, read_word
from tests.sentences import sentences_of


def test_every_number_gives_another_word() -> None:
    """The whole range is used, and no word comes twice."""
    words = ("copper", "fern", "otter")
    built = [build_word(words, number) for number in range(count_words(words))]
    assert 3 * 2 * 8**3 == len(set(built)) == len(built)
    assert ("copper-fern-222", "otter-fern-999") == (built[0], built[-1])
    assert not [word for word in built if len(set(word.split("-")[:2])) == 1]


def test_no_digit_looks_like_a_letter() -> None:
    """0 and 1 are left out: they look like o and l."""
    built = "".join(build_word(("fern", "otter"), number) for number in range(2 * 8**3))
    assert not set("01") & set(built)


@pytest.mark.parametrize(
    "typed",
    [
        "copper-otter-472",
        " Copper Otter 472 ",
        "COPPEROTTER472",
        "copper - otter - 4 7 2",
        "copper_otter472",
    ],
)
def test_a_word_is_known_however_it_is_typed(typed: str) -> None:
    """Capitals, a space or no dash at all are no hurdle for a child."""
    assert "copperotter472" == read_word(typed)


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "copper",
        "472",
        "copper-otter-47",
        "copper-otter-4722",
        "copper-472-otter",
        "c\x00pper-otter-472",
        "copper-otter-\u0664\u0667\u0662",
        "a" * 5000 + "-otter-472",
    ],
)
def test_what_is_no_lesson_word_opens_nothing(typed: str) -> None:
    """It comes back empty rather than as an error: the answer is always the same."""
    assert "" == read_word(typed)


def test_hours_are_those_of_a_school_day() -> None:
    """One to eight hours are taken."""
    assert [1, 8] == [read_hours("1"), read_hours("8")]


@pytest.mark.parametrize("text", ["", "0", "9", "-1", "1.5", "two", "²", "9" * 5000])
def test_other_hours_are_refused_beside_the_field(text: str) -> None:
    """A number off the range, or none, is told beside the field."""
    with pytest.raises(Invalid) as refused:
        read_hours(text)
    assert {"hours": ["Choose from 1 to 8 hours."]} == sentences_of(refused.value)
