"""An answer as it is shown: the words in quotes, and what was drawn as a drawing.

Comes in: an answer and whose it is. Goes out: ready words and SVG for tablet, desk and paper.
"""

from __future__ import annotations

from dataclasses import dataclass

from journal.charts.sketches import draw_sketch
from journal.content.messages import word_message
from journal.domain.groups import Group
from journal.domain.ladders import Answer, AnswerKind
from journal.domain.messages import Message


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerQuote:
    """What a group said at a rung: at least one of the two is there."""

    #: In quotes where they are the group's own; "" for a sketch without words.
    words: str
    #: The sketch, which carries its alternative words; "" where nothing was drawn.
    drawing: str = ""


def quote_answer(
    answer: Answer,
    group: Group,
    *,
    width_px: float,
    language: str,
    said: Message = Message("answer_quotes.said_to_our_teacher"),
) -> AnswerQuote:
    """Return an answer with its sketch `width_px` wide; `said` stands for what has no words."""
    words = f"“{answer.text}”" if answer.text else ""
    if not words and answer.kind is AnswerKind.SAID:
        words = word_message(said, language)
    return AnswerQuote(words=words, drawing=draw_answer(answer, group, width_px=width_px))


def draw_answer(answer: Answer | None, group: Group, *, width_px: float) -> str:
    """Return the sketch of an answer; "" where nothing was drawn."""
    if answer is None or answer.sketch is None:
        return ""
    return draw_sketch(answer.sketch, group=group.name, width_px=width_px)
