"""What can be tapped instead of typed."""

from __future__ import annotations

from itertools import product

import pytest

from journal.content.bands import which_measures
from journal.content.starters import get_starters
from journal.content.texts import read_texts
from journal.domain.classes import GradeBand
from journal.domain.errors import NotFound
from journal.domain.stages import NoteKind
from tests.content.wording import UNWANTED_WORDS, sentences_of, words_of
from tests.sentences import raises

#: Each kind of note, and the reason of a revision.
FIELDS = ("reason", *NoteKind)


def test_every_field_has_starters() -> None:
    """No field is forgotten, and none is there that no page asks for."""
    assert set(FIELDS) == set(read_texts("starters", "en"))


@pytest.mark.parametrize(("field", "band"), list(product(FIELDS, GradeBand)))
def test_a_field_offers_a_handful(field: str, band: GradeBand) -> None:
    """Four to eight different ones, short, without unwanted words."""
    starters = get_starters(field, band, "en")
    assert 4 <= len(set(starters)) == len(starters) <= 8
    for starter in starters:
        words = words_of(starter)
        assert len(words) <= which_measures(band).most_words_a_sentence
        assert set() == set(words) & UNWANTED_WORDS


@pytest.mark.parametrize("field", FIELDS)
def test_a_tap_alone_says_something_in_grade_2(field: str) -> None:
    """Each is one whole sentence, so a child need not write."""
    for starter in get_starters(field, GradeBand.TWO, "en"):
        assert starter[-1] in ".?"
        assert 1 == len(sentences_of(starter))


def test_an_unknown_field_is_not_found() -> None:
    """A slip of a name is said, not hidden."""
    with raises(NotFound, match="colour"):
        get_starters("colour", GradeBand.TWO, "en")
