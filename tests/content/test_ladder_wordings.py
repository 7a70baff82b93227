"""A question asks and tells nothing, whoever wrote it: the journal's files or a teacher."""

from __future__ import annotations

from importlib.resources import files

import pytest

from journal.content.ladder_documents import read_ladder
from journal.content.ladder_wordings import find_fault, find_telling
from journal.content.ladders import all_questions
from journal.content.messages import word_message
from journal.domain.classes import GradeBand
from journal.domain.errors import Invalid
from journal.domain.ladder_texts import MOST_LETTERS
from journal.domain.ladders import Rung
from tests.sentences import sentence_of

WHOLE = (files("journal.content") / "ladders" / "en.toml").read_text(encoding="utf-8")
FIRST = 'text = "Look at your trials. What do you see?"'
SLOTS = ("factor", "old", "new")

FAULTS = [
    ("", "words and a question mark"),
    ("??", "words and a question mark"),
    ("Look once again.", "words and a question mark"),
    ("Did you add tape?", "The word “add” tells what to do"),
    ("Would it fly FARTHER?", "The word “farther” tells what to do"),
    ("Is it a well-cut wing?", "The word “cut” tells what to do"),
    ("Which of the 20 marks?", "A number tells what to do"),
    ("Is it ½ full?", "The word “full” tells what to do"),
    ("Is ½ of it bent?", "A number tells what to do"),
    ("What of {name}?", "can be filled"),
    ("What of {factor?", "can be filled"),
    (f"What{'t' * MOST_LETTERS}?", "letters long"),
]


@pytest.mark.parametrize(("text", "what"), FAULTS)
def test_file_and_form_give_the_same_verdict(text: str, what: str) -> None:
    """What is refused in a file is refused in a form, for the same reason."""
    with pytest.raises(Invalid) as caught:
        read_ladder(WHOLE.replace(FIRST, f'text = "{text}"', 1), "own.toml", "en")
    assert what in sentence_of(caught.value)
    assert what in word_message(find_fault(text, "en", slots=SLOTS) or "")
    assert find_fault(text, "en") is not None


def test_where_nothing_is_filled_in_no_brace_may_stand() -> None:
    """A teacher's words take no slot, not even one that a file may have."""
    assert find_fault("What of the {factor}?", "en", slots=SLOTS) is None
    assert "braces" in word_message(find_fault("What of the {factor}?", "en") or "")
    assert "braces" in word_message(find_fault("What of }{?", "en") or "")


@pytest.mark.parametrize("text", ["What surprised you?", "¿Qué ves?", "Upper lip or chin?"])
def test_a_plain_question_is_taken(text: str) -> None:
    """A telling word inside another word tells nothing."""
    assert find_fault(text, "en") is None


def test_the_journals_own_questions_could_be_a_teachers() -> None:
    """Each in its wording without slots."""
    faults = [
        find_fault(question.plain, "en")
        for rung in Rung
        for band in GradeBand
        for question in all_questions(rung, band, "en")
    ]
    assert {None} == set(faults)


def test_a_starter_need_not_ask() -> None:
    """It only must not tell."""
    assert find_telling("They are all alike.", "en") is None
    assert find_telling("We should add", "en") is not None
