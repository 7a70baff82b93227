"""Words for the teacher's talk with a group: whole for each case, and without a cure."""

from __future__ import annotations

import re
from itertools import product

import pytest

from journal.analysis.diagnosis.reasons import ReasonKey
from journal.content.adaptation_words import describe_adaptation, get_check_lines, get_kind_words
from journal.content.conversation_starters import get_conversation_starters
from journal.content.design_patterns import get_pattern_words
from journal.content.fair_tests import get_fair_test_words
from journal.content.texts import get_text, read_texts
from journal.domain.adaptations import AdaptationKind, AdaptedCheck
from journal.domain.classes import GradeBand
from journal.domain.design_patterns import DesignPattern
from journal.domain.diagnoses import Reading
from tests.content.wording import UNWANTED_WORDS, strings_in, words_of

NOUNS = ("adaptations", "conversation_starters", "design_patterns", "diagnoses", "fair_tests")
#: Words that would hand a cure to the group.
CURES = frozenset({"should", "must", "ought", "need", "fix", "replace", "reduce", "add"})
FIGURES = {"members": 4, "ideas": 1, "revisions": 3, "several": 2, "unseen": 2, "trials": 20}


@pytest.mark.parametrize(("reading", "launches"), list(product(Reading, (True, False))))
def test_three_openings_ask_and_name_no_cure(
    reading: Reading,
    launches: bool,  # noqa: FBT001 - one of the cases
) -> None:
    """A description is asked for before a remedy (common practice, no source)."""
    openings = get_conversation_starters(reading, "en", launches=launches)
    assert 3 == len(set(openings))
    for opening in openings:
        assert set() == set(words_of(opening)) & CURES


def test_no_opening_stands_twice() -> None:
    """Each case has its own words."""
    openings = list(strings_in(read_texts("conversation_starters", "en")))
    assert len(openings) == len(set(openings))


@pytest.mark.parametrize("noun", NOUNS)
def test_the_words_of_the_house_are_kept(noun: str) -> None:
    """No blame, no weapon, no promise."""
    for text in strings_in(read_texts(noun, "en")):
        assert set() == set(words_of(text)) & UNWANTED_WORDS


def test_each_of_the_nine_patterns_has_its_words() -> None:
    """Nine (Crismond & Adams 2012), each with a sign in figures and a question."""
    assert 9 == len(DesignPattern)
    for pattern in DesignPattern:
        words = get_pattern_words(pattern, "en", **FIGURES)
        assert words.ask.endswith("?")
        assert not set("{}") & set(words.sign + words.name)


@pytest.mark.parametrize("key", list(ReasonKey))
def test_each_reason_can_be_worded(key: ReasonKey) -> None:
    """No reason of the diagnosis stays without a sentence."""
    assert get_text("diagnoses", "en", "reasons", key.value).endswith(".")


@pytest.mark.parametrize("reading", list(Reading))
def test_each_reading_has_name_heading_and_sentence(reading: Reading) -> None:
    """Cannot tell is said in words as well."""
    for table in ("names", "headings", "says"):
        assert get_text("diagnoses", "en", table, reading.value.replace(" ", "_"))


@pytest.mark.parametrize("kind", list(AdaptationKind))
def test_each_adaptation_can_be_told(kind: AdaptationKind) -> None:
    """Name, hint and the sentence that is kept; no slot stays open."""
    assert all(get_kind_words(kind, "en"))
    slots = {"distance": "1.5 m", "usual": "2.5 m", "difference": "1 m closer"}
    told = describe_adaptation(kind, "en", note="A ready rail.", trials="6", **slots)
    assert told.endswith(".")
    assert not set("{}") & set(told)


def test_lane_rebound_and_energy_are_looked_at_again() -> None:
    """One line each."""
    lines = [*get_check_lines("en", launches=True), *get_check_lines("en", launches=False)]
    assert list(AdaptedCheck) == lines


@pytest.mark.parametrize("band", list(GradeBand))
def test_the_fair_test_card_takes_ten_to_fifteen_minutes(band: GradeBand) -> None:
    """Taught, not only prompted (Chen & Klahr 1999); the minutes of its steps add up."""
    card = get_fair_test_words(band, "en")
    minutes = sum(int(step.minutes) for step in card.steps)
    assert 10 <= minutes <= 15
    assert re.search("10 to 15 minutes", card.lead)
    assert card.sentence.endswith(".")


def test_the_sentence_for_the_wall_differs_by_band() -> None:
    """A child who grows older reads new words."""
    assert 3 == len({get_fair_test_words(band, "en").sentence for band in GradeBand})
