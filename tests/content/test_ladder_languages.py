"""The questions of each language's ladder: whole, different, and never an answer."""

from __future__ import annotations

from importlib.resources import files
from itertools import product

import pytest

from journal.content.bands import which_measures
from journal.content.ladder_documents import read_ladder
from journal.content.ladders import (
    Question,
    all_questions,
    fill_question,
    get_question,
    join_factors,
    questions_for,
)
from journal.content.languages import LANGUAGES, QUESTION_LANGUAGES
from journal.content.library import ready_challenges
from journal.domain.challenges import Factor
from journal.domain.classes import GradeBand
from journal.domain.diagnoses import Reading
from journal.domain.ladders import Rung
from tests.content.spanish import TELLING, UNWANTED
from tests.content.wording import TELLING_WORDS, UNWANTED_WORDS, sentences_of, words_of

LABELS = ("Earlier", "Later")
LADDERS = tuple(code for code, _ in QUESTION_LANGUAGES)
EVERY_RUNG = list(product(LADDERS, Rung, GradeBand))
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


def rendered(language: str, rung: Rung, band: GradeBand) -> list[Question]:
    """Return every question as a group of a band could meet it that changed one thing or none."""
    changed = [factor.name for factor in factors_for(band)]
    return [
        filled
        for question in all_questions(rung, band, language)
        for filled in (
            fill_question(question),
            *(fill_question(question, name, *LABELS) for name in changed),
        )
    ]


def unwelcome_in(text: str) -> list[str]:
    """Return the words of a text that tell or are not said, in either language.

    A factor keeps its English name inside a Spanish question.
    """
    return [
        word
        for word in words_of(text)
        if word in TELLING_WORDS | UNWANTED_WORDS
        or TELLING.fullmatch(word)
        or UNWANTED.fullmatch(word)
    ]


@pytest.mark.parametrize(("language", "rung", "band"), EVERY_RUNG)
def test_a_question_names_no_value_direction_or_remedy(
    language: str, rung: Rung, band: GradeBand
) -> None:
    """Looked for in the text as it is put, with each factor of each challenge, and its starters."""
    for question in rendered(language, rung, band):
        for text in (question.text, question.aloud, *question.starters):
            assert [] == unwelcome_in(text)
            assert not any(character.isdigit() for character in text)


@pytest.mark.parametrize(("language", "rung", "band"), EVERY_RUNG)
def test_nor_does_it_where_all_was_changed_at_once(
    language: str, rung: Rung, band: GradeBand
) -> None:
    """Every factor that the band is offered, joined in the question's own language."""
    together = join_factors([factor.name for factor in factors_for(band)], language)
    for question in all_questions(rung, band, language):
        assert [] == unwelcome_in(fill_question(question, together, *LABELS).text)


@pytest.mark.parametrize(
    "remedy",
    [
        "¿Por qué no lo hacen más corto?",
        "¿Y si el riel fuera largo?",
        "Acorten el riel. ¿Qué ven?",
        "¿Ya pusieron la mitad?",
        "¿Se acercan hacia la izquierda?",
        "¿Falló otra vez?",
    ],
)
def test_what_tells_is_found_in_spanish(remedy: str) -> None:
    """The search above finds what it looks for."""
    assert unwelcome_in(remedy)


@pytest.mark.parametrize(("language", "rung", "band"), EVERY_RUNG)
def test_a_question_is_whole(language: str, rung: Rung, band: GradeBand) -> None:
    """It asks, no slot stays open, and four or five starters can be tapped."""
    for question in rendered(language, rung, band):
        assert "?" in question.text
        assert not set("{}") & set(question.text + question.aloud)
        assert 4 <= len(set(question.starters)) <= 5
        assert language == question.language


@pytest.mark.parametrize(("rung", "band"), list(product(Rung, GradeBand)))
def test_a_spanish_question_is_opened_as_well(rung: Rung, band: GradeBand) -> None:
    """Each question mark has the one that opens it, and no line of English is left."""
    for question in rendered("es", rung, band):
        assert question.text.count("?") == question.text.count("¿")
        assert question.text not in {one.text for one in rendered("en", rung, band)}


@pytest.mark.parametrize(("language", "rung", "band"), EVERY_RUNG)
def test_sentences_are_as_short_as_the_band_reads(
    language: str, rung: Rung, band: GradeBand
) -> None:
    """At most 8 words in grade 2 and 12 above; at most two sentences."""
    for question in rendered(language, rung, band):
        sentences = sentences_of(question.text)
        assert len(sentences) <= 2
        assert max(len(words_of(sentence)) for sentence in sentences) <= (
            which_measures(band).most_words_a_sentence
        ), question.text


def test_no_two_wordings_share_a_sentence() -> None:
    """Each step up sounds new, so does coming back, growing older, and another language."""
    owner: dict[str, str] = {}
    for language, rung, band in EVERY_RUNG:
        for question in all_questions(rung, band, language):
            for sentence in {*sentences_of(question.text), *sentences_of(question.plain)}:
                assert question.text == owner.setdefault(sentence, question.text)


def test_no_starter_stands_at_two_rungs() -> None:
    """What can be tapped belongs to one rung, band and language."""
    starters = [
        starter
        for language, rung, band in EVERY_RUNG
        for starter in all_questions(rung, band, language)[0].starters
    ]
    assert len(starters) == len(set(starters))


def test_every_ladder_fits_the_same_groups() -> None:
    """A language has a wording for each case that English has one for."""
    cases = []
    for language in LADDERS:
        name = f"ladders/{language}.toml"
        text = (files("journal.content") / name).read_text(encoding="utf-8")
        ladder = read_ladder(text, name, language)
        cases.append(
            {
                place: [
                    (wording.launches, wording.points_to, bool(wording.plain))
                    for wording in found.wordings
                ]
                for place, found in ladder.items()
            }
        )
    english, *others = cases
    assert others
    for other in others:
        assert english == other


def test_a_class_can_read_its_questions() -> None:
    """A language in which all texts are there has its ladder as well."""
    assert dict(LANGUAGES).items() <= dict(QUESTION_LANGUAGES).items()


@pytest.mark.parametrize("band", list(GradeBand))
def test_each_ladder_has_telling_words_of_its_own(band: GradeBand) -> None:
    """None falls back to English unseen: its own words are read."""
    for language in LADDERS:
        assert (files("journal.content") / "telling_words" / f"{language}.toml").is_file()
        assert language == get_question(Rung.AIM, band, language).language


@pytest.mark.parametrize(
    ("language", "rung", "band", "launches", "points_to"),
    list(product(LADDERS, Rung, GradeBand, (True, False), POINTS)),
)
def test_a_group_can_come_back_in_one_lesson(
    language: str,
    rung: Rung,
    band: GradeBand,
    launches: bool,  # noqa: FBT001 - one of the cases
    points_to: Reading,
) -> None:
    """Three wordings or more fit each group at each rung; what the trials point to comes first."""
    fitting = questions_for(rung, band, language, launches=launches, points_to=points_to)
    assert len(fitting) >= 3
    others = set(POINTS) - {points_to}
    for other in others:
        apart = questions_for(rung, band, language, launches=launches, points_to=other)
        if points_to is not Reading.CANNOT_TELL:
            assert fitting[0] not in apart
