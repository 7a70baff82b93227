"""From what a group tapped, wrote or drew on the ladder to the answer that is kept."""

from __future__ import annotations

from datetime import datetime
from uuid import uuid4

from journal.domain.classes import GradeBand
from journal.domain.errors import Invalid, Problem
from journal.domain.groups import Group
from journal.domain.ladder_gates import GATES
from journal.domain.ladders import Answer, AnswerEntry, AnswerKind, Climb
from journal.domain.messages import Message
from journal.domain.sentences import clean_words, find_problem, join_sentence
from journal.domain.sketches import Sketch, read_sketch

_MOST_SCRIBE_LETTERS = 24


def settle_answer(
    entry: AnswerEntry, group: Group, band: GradeBand, climb: Climb, at: datetime
) -> Answer:
    """Return the answer at the climb's rung: words, a sketch, both, or "said to the teacher".

    Raises Invalid with every problem, at "words", "sketch" and "who".
    """
    text = join_sentence(entry.starter, entry.words)
    problems = [problem for problem in [find_problem("words", text)] if problem]
    sketch, unreadable = _try_sketch(entry.sketch)
    problems += unreadable
    if not entry.said_to_teacher and sketch is None and not unreadable:
        problems += _find_missing(text, entry, band)
    if entry.student_id is not None and not group.has(entry.student_id):
        problems.append(Problem("who", Message("stages.tap_a_child_of_this_group")))
    if problems:
        raise Invalid(problems[0].what, problems)
    return Answer(
        id=uuid4(),
        climb_id=climb.id,
        rung=climb.rung,
        question=entry.question,
        kind=_kind_of(entry, sketch),
        text=text,
        sketch=sketch,
        student_id=entry.student_id,
        scribe=clean_words(entry.scribe)[:_MOST_SCRIBE_LETTERS],
        answered_at=at,
    )


def _find_missing(text: str, entry: AnswerEntry, band: GradeBand) -> list[Problem]:
    """Return what an answer without a sketch lacks to open the gate of the band."""
    if not text:
        what = Message("ladder_answers.tap_a_sentence")
        return [Problem("words", what)]
    if not clean_words(entry.words) and not GATES[band].a_tap_answers:
        what = Message("ladder_answers.finish_the_sentence_in_your_own_words")
        return [Problem("words", what)]
    return []


def _try_sketch(text: str) -> tuple[Sketch | None, tuple[Problem, ...]]:
    try:
        return read_sketch(text), ()
    except Invalid as invalid:
        return None, invalid.problems


def _kind_of(entry: AnswerEntry, sketch: Sketch | None) -> AnswerKind:
    if clean_words(entry.words):
        return AnswerKind.WORDS
    if entry.said_to_teacher:
        return AnswerKind.SAID
    if sketch is not None and not clean_words(entry.starter):
        return AnswerKind.SKETCH
    return AnswerKind.STARTER
