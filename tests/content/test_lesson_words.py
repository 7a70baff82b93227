"""The words of lesson words, and the names of groups."""

from __future__ import annotations

import re
from itertools import combinations

from journal.content.group_names import get_group_names
from journal.content.languages import LANGUAGES
from journal.content.lesson_words import get_lesson_words
from journal.domain.lesson_words import LONGEST_WORD, count_words, read_word


def test_there_are_enough_words_to_make_guessing_slow() -> None:
    """At least 5,000 combinations in each language."""
    for language, _ in LANGUAGES:
        assert count_words(get_lesson_words(language)) >= 5000


def test_words_are_short_and_have_no_letters_that_look_like_others() -> None:
    """No "rn", "vv", "cl", which look like m, w, d; and a child types it in one go."""
    for word in get_lesson_words("en"):
        assert re.fullmatch("[a-z]{4,9}", word), word
        assert not re.search("rn|vv|cl", word), word
        assert f"{word}-22" == read_word(f"{word}-22")
        assert len(word) + 3 <= LONGEST_WORD


def test_no_two_words_differ_by_one_letter_only() -> None:
    """One slip of a finger never gives another word of the list."""
    near = [
        (one, other)
        for one, other in combinations(get_lesson_words("en"), 2)
        if len(one) == len(other) and sum(a != b for a, b in zip(one, other, strict=True)) == 1
    ]
    assert [] == near


def test_group_names_are_all_different_and_fit_a_spine() -> None:
    """Each is one short word."""
    names = get_group_names("en")
    assert len(names) == len(set(names))
    assert all(name.isalpha() and len(name) <= 8 for name in names)
