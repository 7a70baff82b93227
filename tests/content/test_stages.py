"""The words of the six stages, of the gate and of who needs the teacher."""

from __future__ import annotations

from itertools import product

import pytest

from journal.content.bands import which_measures
from journal.content.stages import get_stage_words
from journal.domain.classes import GradeBand
from journal.domain.stages import NoteKind, Stage
from tests.content.wording import sentences_of, words_of


@pytest.mark.parametrize(("stage", "band"), list(product(Stage, GradeBand)))
def test_a_stage_has_one_question_and_a_label_a_field(stage: Stage, band: GradeBand) -> None:
    """The heading asks one thing; each field of the stage is labelled, no other."""
    words = get_stage_words(stage, band, "en")
    assert 1 == words.question.count("?")
    assert {kind for kind in NoteKind if kind.stage is stage} == set(words.labels)
    for text in (words.title, words.question, *words.labels.values()):
        for sentence in sentences_of(text):
            assert 1 <= len(words_of(sentence)) <= which_measures(band).most_words_a_sentence


def test_titles_differ() -> None:
    """Six stages, six names, the same in every band."""
    for band in GradeBand:
        titles = [get_stage_words(stage, band, "en").title for stage in Stage]
        assert ["Ask", "Imagine", "Plan", "Build", "Test", "Improve"] == titles


def test_the_question_field_is_not_the_heading() -> None:
    """At ask, a field and the heading are both about a question."""
    words = get_stage_words(Stage.ASK, GradeBand.TWO, "en")
    assert words.question != words.labels[NoteKind.QUESTION]
