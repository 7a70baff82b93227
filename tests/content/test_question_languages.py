"""The language of a kept question is found again by its words."""

from __future__ import annotations

from itertools import product

import pytest

from journal.content.ladders import all_questions, fill_question
from journal.content.languages import QUESTION_LANGUAGES
from journal.content.question_languages import find_question_language
from journal.domain.classes import GradeBand
from journal.domain.ladders import Rung


@pytest.mark.parametrize("language", [code for code, _ in QUESTION_LANGUAGES])
@pytest.mark.parametrize("factor", [None, "Tip", "Where the load stands (left?)", "Riel «A»"])
def test_every_question_is_known_by_its_words(language: str, factor: str | None) -> None:
    """With and without what a group changed, whatever that is called."""
    for rung, band in product(Rung, GradeBand):
        for question in all_questions(rung, band, language):
            put = fill_question(question, factor, "Launcher 1", "Ana's dart 2")
            assert language == find_question_language(put.text)


@pytest.mark.parametrize("own", ["", "What surprised you today?", "¿Qué les sorprendió hoy?"])
def test_a_teachers_own_question_is_of_no_ladder(own: str) -> None:
    """Its language is that of the class, which is not known here."""
    assert find_question_language(own) is None
