"""The questions of the ladder: whole, different, and never an answer."""

from __future__ import annotations

from itertools import product

import pytest

from journal.content.bands import which_measures
from journal.content.ladders import (
    Question,
    all_questions,
    fill_question,
    get_question,
    pick_fresh,
    questions_for,
)
from journal.content.library import ready_challenges
from journal.domain.challenges import Factor
from journal.domain.classes import GradeBand
from journal.domain.diagnoses import Reading
from journal.domain.ladders import Rung
from tests.content.wording import TELLING_WORDS, UNWANTED_WORDS, sentences_of, words_of

LABELS = ("Earlier", "Later")
#: What the trials of a group may point to.
POINTS = (Reading.DEVICE, Reading.USE, Reading.CANNOT_TELL)


def factors_for(band: GradeBand) -> list[Factor]:
    """Return every factor of the ready challenges that a band is offered."""
    return [
        factor
        for challenge in ready_challenges()
        for part in challenge.parts
        for factor in part.factors
        if not factor.bands or band in factor.bands
    ]


def rendered(rung: Rung, band: GradeBand) -> list[Question]:
    """Return every question as every group of a band could meet it."""
    return [
        filled
        for question in all_questions(rung, band, "en")
        for filled in (
            fill_question(question),
            *(fill_question(question, factor.name, *LABELS) for factor in factors_for(band)),
        )
    ]


@pytest.mark.parametrize(("rung", "band"), list(product(Rung, GradeBand)))
def test_a_question_names_no_value_direction_or_remedy(rung: Rung, band: GradeBand) -> None:
    """Looked for in the text as it is put, with each factor of each challenge, and its starters."""
    for question in rendered(rung, band):
        for text in (question.text, question.aloud, *question.starters):
            words = set(words_of(text))
            assert set() == words & (TELLING_WORDS | UNWANTED_WORDS)
            assert not any(character.isdigit() for character in text)


@pytest.mark.parametrize(("rung", "band"), list(product(Rung, GradeBand)))
def test_a_question_is_whole(rung: Rung, band: GradeBand) -> None:
    """It asks, no slot stays open, and four or five starters can be tapped."""
    for question in rendered(rung, band):
        assert "?" in question.text
        assert not set("{}") & set(question.text + question.aloud)
        assert 4 <= len(set(question.starters)) <= 5


@pytest.mark.parametrize(("rung", "band"), list(product(Rung, GradeBand)))
def test_sentences_are_as_short_as_the_band_reads(rung: Rung, band: GradeBand) -> None:
    """At most 8 words in grade 2 and 12 above; at most two sentences."""
    for question in rendered(rung, band):
        sentences = sentences_of(question.text)
        assert len(sentences) <= 2
        assert max(len(words_of(one)) for one in sentences) <= (
            which_measures(band).most_words_a_sentence
        ), question.text


def test_no_two_wordings_share_a_sentence() -> None:
    """Each step up sounds new, so does coming back, and growing older."""
    owner: dict[str, str] = {}
    for rung, band in product(Rung, GradeBand):
        for question in all_questions(rung, band, "en"):
            for sentence in {*sentences_of(question.text), *sentences_of(question.plain)}:
                assert question.text == owner.setdefault(sentence, question.text)


@pytest.mark.parametrize(
    ("rung", "band", "launches", "points_to"),
    list(product(Rung, GradeBand, (True, False), POINTS)),
)
def test_a_group_can_come_back_in_one_lesson(
    rung: Rung,
    band: GradeBand,
    launches: bool,  # noqa: FBT001 - one of the cases
    points_to: Reading,
) -> None:
    """Three wordings or more fit each group at each rung; what the trials point to comes first."""
    fitting = questions_for(rung, band, "en", launches=launches, points_to=points_to)
    assert len(fitting) >= 3
    others = set(POINTS) - {points_to}
    for other in others:
        apart = questions_for(rung, band, "en", launches=launches, points_to=other)
        if points_to is not Reading.CANNOT_TELL:
            assert fitting[0] not in apart


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


def test_both_revisions_are_named_where_the_band_reads_them() -> None:
    """Labels are put as they are."""
    question = get_question(Rung.COMPARE, GradeBand.THREE_TO_FIVE, "en")
    filled = fill_question(question, "Fold", "Bridge 1", "Bridge 2")
    assert filled.text.startswith("Bridge 1, then Bridge 2: you changed the fold.")


@pytest.mark.parametrize("factor", [None, "", "  "])
def test_a_group_that_changed_nothing_gets_the_plain_wording(factor: str | None) -> None:
    """No empty slot is ever shown."""
    question = get_question(Rung.COMPARE, GradeBand.SIX_TO_EIGHT, "en")
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
