"""The sentences of findings: each band hears what it may, and no more than the trials carry."""

from __future__ import annotations

import math
from itertools import product

import pytest

from journal.analysis.exchange_comparison import ExchangeWord
from journal.analysis.verdicts import Verdict
from journal.content.bands import which_measures
from journal.content.finding_words import fill_in, find_sentence, show_figure
from journal.content.texts import find_entry, key_of, read_texts, slots_of
from journal.domain.classes import GradeBand
from tests.content.wording import UNWANTED_WORDS, sentences_of, words_of

#: The others have a sentence for each way in which the better one is known.
NAMED = [word for word in Verdict if word not in {Verdict.HINT, Verdict.MORE, Verdict.LESS}]
KEYS = sorted(read_texts("findings", "en"))
HINTS = ("hint_better", "hint_worse", "hint_level")
WITH_PRACTICE = (
    "did_better_practice",
    "did_worse_practice",
    "came_higher_practice",
    "came_lower_practice",
)
VERDICTS = (
    *("not_comparable", "too_early", "same", *HINTS, "did_better", "did_worse"),
    *("came_higher", "came_lower", "no_clear_difference"),
)
EVERYWHERE = (
    *VERDICTS,
    *WITH_PRACTICE,
    *("nothing_yet", "trials", "best", "misfires", "misfires_launching", "distance_changed"),
    *("panel_changed", "session_changed", "testers_differ"),
    *("no_common_tester", "handling_differs", "several_changes", "no_new_best", "reliability"),
    *("same_answer", "no_new_best_revisions", "destroyed", "criterion_met", "criterion_not_yet"),
)


def filled(key: str, band: GradeBand) -> str | None:
    """Return a sentence with a figure in every slot, a label being one name and so one word."""
    text = read_texts("findings", "en")[key].get(band.value)
    if text is None:
        return None
    names = {"old": "Earlier", "new": "Later", "revision": "Later", "zone": "Bark", "unit": "mm"}
    slots = {slot: names.get(slot, 3) for slot in slots_of(text)}
    return find_sentence(key, band, "en", **slots)


@pytest.mark.parametrize(("key", "band"), list(product(EVERYWHERE, GradeBand)))
def test_every_band_hears_it(key: str, band: GradeBand) -> None:
    """Verdicts, reasons and counts are told to everybody."""
    assert filled(key, band)


@pytest.mark.parametrize(("key", "band"), list(product(KEYS, GradeBand)))
def test_sentences_are_short_and_whole(key: str, band: GradeBand) -> None:
    """No open slot, at most 8 words a sentence in grade 2 and 12 above, no unwanted word."""
    sentence = filled(key, band)
    if sentence is None:
        return
    assert not set("{}") & set(sentence)
    for part in sentences_of(sentence):
        assert len(words_of(part)) <= which_measures(band).most_words_a_sentence
    assert set() == set(words_of(sentence)) & UNWANTED_WORDS


@pytest.mark.parametrize("key", KEYS)
def test_no_averages_below_grade_6(key: str) -> None:
    """Common Core State Standards (2010): mean and median come with 6.SP."""
    for band in (GradeBand.TWO, GradeBand.THREE_TO_FIVE):
        words = set(words_of(filled(key, band) or ""))
        assert set() == words & {"mean", "means", "average", "median", "quartile", "deviation", "n"}


@pytest.mark.parametrize("key", WITH_PRACTICE)
@pytest.mark.parametrize("band", list(GradeBand))
def test_practice_is_always_named(key: str, band: GradeBand) -> None:
    """One block after the other never says better or worse alone."""
    assert "Practice can explain it" in (filled(key, band) or "")


@pytest.mark.parametrize("key", HINTS)
@pytest.mark.parametrize("band", list(GradeBand))
def test_a_hint_asks_to_keep_testing(key: str, band: GradeBand) -> None:
    """A hint is not a verdict."""
    assert "eep testing" in (filled(key, band) or "")


@pytest.mark.parametrize("key", [*VERDICTS, *WITH_PRACTICE])
@pytest.mark.parametrize("band", list(GradeBand))
def test_no_verdict_says_more_or_equal(key: str, band: GradeBand) -> None:
    """More is worse where less is better; and what cannot be told apart is not alike."""
    said = (filled(key, band) or "").replace("no more:", "")
    assert set() == {"more", "less", "scored", "much", "difference", "equal"} & set(words_of(said))


@pytest.mark.parametrize("band", list(GradeBand))
def test_what_cannot_be_told_apart_is_said_so(band: GradeBand) -> None:
    """Neither "much the same" nor "no difference": nobody knows that."""
    assert "These trials cannot tell them apart." in (filled("no_clear_difference", band) or "")
    assert "The same so far." in (filled("same", band) or "")


@pytest.mark.parametrize("word", [*NAMED, *ExchangeWord])
def test_the_key_of_a_word_is_its_name(word: Verdict | ExchangeWord) -> None:
    """A word can be put otherwise in an answer to a machine, and keeps its sentence."""
    start = "" if isinstance(word, Verdict) else "exchange_"
    assert find_entry("findings", "en", f"{start}{key_of(word)}") is not None


def test_one_trial_is_one_trial() -> None:
    """Number and noun agree."""
    slots = {"revision": "Dart 2"}
    assert "1 trial with Dart 2." == find_sentence("trials", GradeBand.TWO, "en", n=1, **slots)
    assert "2 trials with Dart 2." == find_sentence("trials", GradeBand.TWO, "en", n=2, **slots)


def test_misfires_are_counts() -> None:
    """Three of nine, never a share."""
    sentence = find_sentence("misfires_launching", GradeBand.TWO, "en", misfires=3, n=9)
    assert "3 of 9 did not fly." == sentence


def test_what_a_band_is_not_told_has_no_sentence() -> None:
    """A band that may not hear of a mean gets no sentence on it."""
    assert find_sentence("centre", GradeBand.TWO, "en", mean=1, median=2, unit="mm", n=3) is None


@pytest.mark.parametrize(
    ("value", "band", "expected"),
    [
        (4.0, GradeBand.TWO, "4"),
        (4.4, GradeBand.TWO, "about 4"),
        (0.05, GradeBand.TWO, "nearly 0"),
        (-0.1, GradeBand.THREE_TO_FIVE, "nearly 0"),
        (2.5, GradeBand.THREE_TO_FIVE, "2.5"),
        (2.3, GradeBand.THREE_TO_FIVE, "about 2.25"),
        (2.3456, GradeBand.SIX_TO_EIGHT, "2.35"),
        (1234.6, GradeBand.SIX_TO_EIGHT, "1235"),
        (0.012345, GradeBand.SIX_TO_EIGHT, "0.0123"),
        (-1.5, GradeBand.SIX_TO_EIGHT, "-1.5"),
        (math.nan, GradeBand.SIX_TO_EIGHT, "not known"),
        (math.inf, GradeBand.TWO, "not known"),
        (None, GradeBand.TWO, "not known"),
        ("", GradeBand.TWO, "not known"),
        ("Dart 2", GradeBand.TWO, "Dart 2"),
    ],
)
def test_figures_are_shown_as_the_band_reads_them(
    value: object, band: GradeBand, expected: str
) -> None:
    """Grade 2 no decimals, grades 3-5 wholes, halves, quarters (3.MD.B.4), then three figures."""
    assert expected == show_figure(value, band)


def test_a_figure_that_is_missing_is_said_and_never_a_gap() -> None:
    """No NaN and no empty slot reaches a screen."""
    sentence = find_sentence("best", GradeBand.SIX_TO_EIGHT, "en", best=math.nan, unit="g")
    assert "Best result with not known: not known g." == sentence


def test_one_of_a_unit_stands_in_the_singular() -> None:
    """The figure right before the unit decides it, as in “median 1 point”."""
    said = find_sentence("median", GradeBand.SIX_TO_EIGHT, "en", median=1.0, unit="points", n=3)
    assert "Median 1 point, n = 3." == said
    both = dict.fromkeys(("median", "unit"), "1") | {"mean": "2", "unit": "{points}"}
    assert "2, 1 {points}" == fill_in("{mean}, {median} {unit}", both)
