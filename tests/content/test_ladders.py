"""Which question of the ladder is put, and what is filled into it."""

from __future__ import annotations

from itertools import product

import pytest

from journal.content.ladders import (
    fill_question,
    get_question,
    join_factors,
    pick_fresh,
    questions_for,
)
from journal.content.languages import QUESTION_LANGUAGES
from journal.domain.classes import GradeBand
from journal.domain.ladders import Rung

LADDERS = tuple(code for code, _ in QUESTION_LANGUAGES)


def test_questions_that_were_put_come_back_last() -> None:
    """The first that is new is taken; once all were put, the one put longest ago."""
    fitting = questions_for(Rung.AIM, GradeBand.TWO, "en", launches=True)
    texts = [one.text for one in fitting]
    assert texts[0] == pick_fresh(fitting, []).text
    assert texts[1] == pick_fresh(fitting, [texts[0], "something else"]).text
    assert texts[1] == pick_fresh(fitting, [texts[1], texts[0], *texts[2:]]).text


def test_launching_and_loading_are_asked_about_apart() -> None:
    """Nobody who loads a bridge is asked where it landed."""
    launched = questions_for(Rung.NOTICE, GradeBand.THREE_TO_FIVE, "en", launches=True)
    loaded = questions_for(Rung.NOTICE, GradeBand.THREE_TO_FIVE, "en", launches=False)
    assert any("launch" in one.text for one in launched)
    assert not any("launch" in one.text or "land" in one.text for one in loaded)
    assert any("load" in one.text for one in loaded)


def test_a_group_that_changed_something_hears_its_own_factor() -> None:
    """The factor stands inside the sentence with a small letter."""
    question = get_question(Rung.COMPARE, GradeBand.TWO, "en")
    filled = fill_question(question, "Tip", "Dart 1", "Dart 2")
    assert "You changed the tip. What is not the same now?" == filled.text
    assert filled.text == filled.aloud


def test_a_factor_is_quoted_in_a_spanish_question() -> None:
    """Its name is the challenge's own; two that changed together stand in quotes each."""
    question = get_question(Rung.COMPARE, GradeBand.TWO, "es")
    one = fill_question(question, join_factors(["Tip"], "es"), "Dart 1", "Dart 2")
    both = fill_question(question, join_factors(["Tip", "Fin area"], "es"), "Dart 1", "Dart 2")
    assert "Cambiaron «tip». ¿Qué ya no es igual?" == one.text
    assert "Cambiaron «tip» y «fin area». ¿Qué ya no es igual?" == both.text


def test_factors_changed_together_are_named_together() -> None:
    """English joins them with its own words."""
    assert "tip and the fin area" == join_factors(["Tip", "Fin area"], "en")
    assert "" == join_factors([], "en")


def test_both_revisions_are_named_where_the_band_reads_them() -> None:
    """Labels are put as they are."""
    question = get_question(Rung.COMPARE, GradeBand.THREE_TO_FIVE, "en")
    filled = fill_question(question, "Fold", "Bridge 1", "Bridge 2")
    assert filled.text.startswith("Bridge 1, then Bridge 2: you changed the fold.")


@pytest.mark.parametrize(("language", "factor"), list(product(LADDERS, [None, "", "  "])))
def test_a_group_that_changed_nothing_gets_the_plain_wording(
    language: str, factor: str | None
) -> None:
    """No empty slot is ever shown."""
    question = get_question(Rung.COMPARE, GradeBand.SIX_TO_EIGHT, language)
    filled = fill_question(question, factor, "Launcher 1", "Launcher 2")
    assert question.plain == filled.text == filled.aloud


def test_braces_in_a_childs_label_stay_what_they_are() -> None:
    """A label is put in once and never read as a slot."""
    question = get_question(Rung.COMPARE, GradeBand.THREE_TO_FIVE, "en")
    filled = fill_question(question, "Tip", "{new}", "{0}")
    assert filled.text.startswith("{new}, then {0}: you changed the tip.")


def test_a_language_without_texts_gets_english() -> None:
    """A screen never stays empty; a language is never read as a path."""
    english = get_question(Rung.AIM, GradeBand.TWO, "en")
    assert english == get_question(Rung.AIM, GradeBand.TWO, "xx")
    assert english == get_question(Rung.AIM, GradeBand.TWO, "../en")
