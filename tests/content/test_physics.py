"""The story of the energy: no numbers, few words, easy to read."""

from __future__ import annotations

import pytest

from journal.calculators.physics import PhysicsKind
from journal.content.bands import which_measures
from journal.content.physics import get_bound_line, get_kind_name, get_question, get_story
from journal.domain.classes import GradeBand
from tests.content.test_reading_levels import HIGHEST_GRADE, grade_of
from tests.content.wording import UNWANTED_WORDS, sentences_of, words_of

YOUNG = (GradeBand.TWO, GradeBand.THREE_TO_FIVE)


def stories(band: GradeBand) -> list[str]:
    """Return every line a band can be told."""
    return [line for kind in PhysicsKind for line in get_story(kind.value, band, "en")]


@pytest.mark.parametrize("band", YOUNG)
def test_a_story_has_no_number_and_no_unit(band: GradeBand) -> None:
    """No quantity of energy for grades 2 to 5: NGSS 2013, assessment boundary of 4-PS3-3."""
    lines = stories(band)
    assert not [line for line in lines if any(character.isdigit() for character in line)]
    units = {"joule", "joules", "newton", "newtons", "watt", "watts"}
    assert set() == units & {word for line in lines for word in words_of(line)}


@pytest.mark.parametrize("band", YOUNG)
def test_a_story_is_read_easily(band: GradeBand) -> None:
    """All lines of a band together are no harder than the band."""
    assert grade_of(stories(band)) <= HIGHEST_GRADE[band]


@pytest.mark.parametrize("band", YOUNG)
def test_sentences_are_short(band: GradeBand) -> None:
    """No sentence is longer than the band reads."""
    most = which_measures(band).most_words_a_sentence
    told = [sentence for line in stories(band) for sentence in sentences_of(line)]
    assert [] == [one for one in told if len(words_of(one)) > most]


def test_no_word_is_unwanted() -> None:
    """Nothing of weapons, promises or blame."""
    told = [line for band in YOUNG for line in stories(band)]
    told += [get_question(band, "en") for band in GradeBand]
    told += [get_kind_name(kind.value, "en") for kind in PhysicsKind]
    told += [get_bound_line(kind.value, "en") for kind in PhysicsKind]
    assert set() == {word for line in told for word in words_of(line)} & UNWANTED_WORDS
