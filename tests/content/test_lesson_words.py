"""The words of lesson words, and the names of groups."""

from __future__ import annotations

import re
from collections import Counter
from itertools import combinations, permutations

from journal.content.group_names import get_group_names
from journal.content.languages import LANGUAGES
from journal.content.lesson_words import get_lesson_words
from journal.domain.lesson_words import LONGEST_WORD, MOST_HOURS, count_words, read_word


def test_guessing_for_a_school_day_finds_next_to_nothing() -> None:
    """Sixty tries a minute, the most that are let pass, for the longest that a word lasts."""
    tries = 60 * 60 * MOST_HOURS
    for language, _ in LANGUAGES:
        assert count_words(get_lesson_words(language)) >= 1.8e7
        assert tries / count_words(get_lesson_words(language)) < 0.002


def test_no_two_lesson_words_are_typed_alike() -> None:
    """Where the first word ends need not be typed: no other two words give the same letters."""
    for language, _ in LANGUAGES:
        pairs = Counter(one + other for one, other in permutations(get_lesson_words(language), 2))
        assert [] == [letters for letters, times in pairs.items() if times > 1]


def test_words_are_short_and_have_no_letters_that_look_like_others() -> None:
    """No "rn", "vv", "cl", which look like m, w, d; and a child types it in one go."""
    for word in get_lesson_words("en"):
        assert re.fullmatch("[a-z]{4,9}", word), word
        assert not re.search("rn|vv|cl", word), word
        assert f"{word}otter222" == read_word(f"{word}-otter-222")
        assert 2 * len(word) + len("--222") <= LONGEST_WORD


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
