"""What a group said at a rung: words or a sketch, and the last of them."""

from __future__ import annotations

from datetime import UTC, datetime
from uuid import uuid4

import pytest

from journal.domain.ladders import Answer, AnswerKind, Climb, Rung
from journal.domain.sketches import Sketch

AT = datetime(2030, 3, 4, 9, 0, tzinfo=UTC)
SKETCH = Sketch(strokes=(((1, 2), (3, 4)),))


def _answer(kind: AnswerKind, text: str = "", sketch: Sketch | None = None) -> Answer:
    return Answer(
        id=uuid4(),
        climb_id=uuid4(),
        rung=Rung.EXPLAIN,
        question="Why?",
        kind=kind,
        text=text,
        sketch=sketch,
        student_id=None,
        scribe="",
        answered_at=AT,
    )


WORDS = _answer(AnswerKind.WORDS, "The rail is short.")
DRAWN = _answer(AnswerKind.SKETCH, sketch=SKETCH)
SAID = _answer(AnswerKind.SAID)


@pytest.mark.parametrize(
    ("answers", "found"),
    [
        ((WORDS,), WORDS),
        ((DRAWN,), DRAWN),
        ((WORDS, DRAWN), DRAWN),
        ((DRAWN, WORDS), WORDS),
        ((DRAWN, SAID), DRAWN),
        ((SAID,), None),
    ],
)
def test_the_last_answer_that_says_something_is_found(
    answers: tuple[Answer, ...], found: Answer | None
) -> None:
    """A sketch without words says something; "said to the teacher" alone tells nobody what."""
    climb = Climb(
        id=uuid4(),
        school_id=uuid4(),
        group_id=uuid4(),
        challenge_id=uuid4(),
        started_at=AT,
        why="asked",
        rung=Rung.AIM,
        rung_opened_at=AT,
        answers=answers,
    )
    assert found is climb.find_answer(Rung.EXPLAIN)
    assert climb.find_answer(Rung.AIM) is None
