"""Promises about all texts that come with the journal."""

from __future__ import annotations

import tomllib

import pytest

from journal.content.bands import which_measures
from journal.content.library import ready_challenges
from journal.content.texts import get_text, get_texts, read_texts
from journal.domain.challenges import Challenge
from journal.domain.classes import GradeBand
from journal.domain.errors import NotFound
from tests.content.wording import (
    UNWANTED_WORDS,
    sentences_of,
    strings_in,
    toml_texts,
    words_of,
)
from tests.sentences import raises

TEXTS = toml_texts()


@pytest.mark.parametrize("name", sorted(TEXTS))
def test_no_unwanted_word_stands_in_any_text(name: str) -> None:
    """No weapon words, nothing is called safe, nobody wins or fails."""
    for text in strings_in(tomllib.loads(TEXTS[name])):
        assert set() == set(words_of(text)) & UNWANTED_WORDS, text


def test_the_search_for_texts_finds_them() -> None:
    """The test above looks at every room of the content."""
    rooms = {name.partition("/")[0] for name in TEXTS}
    assert {"challenges", "ladders", "starters", "findings", "stages", "gates", "needs"} <= rooms


@pytest.mark.parametrize("challenge", ready_challenges(), ids=lambda challenge: challenge.key)
def test_a_story_is_in_the_bands_words(challenge: Challenge) -> None:
    """At most 8 words a sentence in grade 2 and 12 above."""
    for band in GradeBand:
        wording = challenge.wording[band]
        for sentence in sentences_of(f"{wording.story} {wording.problem}"):
            assert len(words_of(sentence)) <= which_measures(band).most_words_a_sentence, sentence


@pytest.mark.parametrize("challenge", ready_challenges(), ids=lambda challenge: challenge.key)
def test_what_every_band_reads_is_short(challenge: Challenge) -> None:
    """Cautions, criteria and causes are the same in each band, so they are short."""
    texts = [row.text for row in challenge.criteria]
    texts += [row.text for row in challenge.constraints]
    texts += [row.text for row in challenge.safety]
    most_words = which_measures(GradeBand.THREE_TO_FIVE).most_words_a_sentence
    for text in texts:
        assert max(len(words_of(sentence)) for sentence in sentences_of(text)) <= most_words
    for sentence in sentences_of(challenge.caution):
        assert len(words_of(sentence)) <= which_measures(GradeBand.TWO).most_words_a_sentence


def test_a_missing_text_names_its_path() -> None:
    """A slip of a key is said where it is."""
    with raises(NotFound, match=r"ask\.2\.colour in stages"):
        get_text("stages", "en", "ask", "2", "colour")
    with raises(NotFound, match="starters"):
        get_texts("starters", "en", "reason")
    with raises(NotFound, match="no texts called poems"):
        read_texts("poems", "en")
