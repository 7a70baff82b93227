"""The pace of the ladder beside what was published of asking children."""

from __future__ import annotations

from journal.analysis.stall import REVISIONS_WITHOUT_BEST, WINDOWS
from journal.content.asking import AskingFact, get_asking_facts
from journal.domain.classes import GradeBand
from journal.domain.fair_test_cards import CARD_BANDS
from journal.domain.ladder_gates import GATES
from journal.domain.ladders import LEAST_WAIT

#: Ages of a grade at its beginning and end, from memory: grade g is g + 5 to g + 6 years old.
YEARS_OLDER = 5
GRADES = {
    GradeBand.TWO: (2, 2),
    GradeBand.THREE_TO_FIVE: (3, 5),
    GradeBand.SIX_TO_EIGHT: (6, 8),
}


def _fact(key: str) -> AskingFact:
    return next(one for one in get_asking_facts("en") if one.key == key)


def test_a_question_is_given_the_published_wait() -> None:
    """At least 3 s of wait time (Rowe 1986)."""
    assert LEAST_WAIT.total_seconds() >= _fact("wait").figures["least_seconds"]


def test_the_card_goes_to_the_ages_that_have_to_be_taught() -> None:
    """Ages 7-10, prompts alone did not help (Chen & Klahr 1999): grades 2 to 5, and no later."""
    figures = _fact("fair_test").figures
    for band, (first, last) in GRADES.items():
        youngest, oldest = first + YEARS_OLDER, last + YEARS_OLDER
        meant = figures["youngest_years"] <= youngest and oldest <= figures["oldest_years"]
        assert meant is (band in CARD_BANDS), band


def test_younger_groups_are_asked_sooner() -> None:
    """Struggle first helped, but not in grades 2-5 (Sinha & Kapur 2021): less of it there."""
    figures = _fact("struggle").figures
    assert (2, 5) == (figures["reversed_from_grade"], figures["reversed_to_grade"])
    young, middle, old = (GATES[band] for band in GradeBand)
    assert young.trials <= middle.trials < old.trials
    assert (True, True, False) == tuple(one.a_tap_answers for one in (young, middle, old))
    assert (True, False, False) == tuple(one.adult_first for one in (young, middle, old))
    assert REVISIONS_WITHOUT_BEST < WINDOWS[GradeBand.THREE_TO_FIVE]
    assert WINDOWS[GradeBand.THREE_TO_FIVE] < WINDOWS[GradeBand.SIX_TO_EIGHT]


def test_each_fact_names_its_source_and_lies_in_its_interval() -> None:
    """A year stands in every source; an effect lies between its ends."""
    for fact in get_asking_facts("en"):
        assert any(word.strip(",;").isdigit() for word in fact.source.split()), fact.key
        figures = fact.figures
        if "effect" in figures:
            assert figures["effect_low"] < figures["effect"] < figures["effect_high"]
