"""A ladder that is not whole, or tells what to do, is refused with file and line."""

from __future__ import annotations

from collections.abc import Callable
from importlib.resources import files

import pytest

from journal.content.ladder_documents import read_ladder
from journal.domain.errors import Invalid
from tests.sentences import raises, sentence_of

WHOLE = (files("journal.content") / "ladders" / "en.toml").read_text(encoding="utf-8")
FIRST = 'text = "Look at your trials. What do you see?"'


def _without_rung(text: str) -> str:
    return text[: text.index("[ask_teacher.6-8]")]


def _with(line: str) -> Callable[[str], str]:
    return lambda text: text.replace(FIRST, line, 1)


@pytest.mark.parametrize(
    ("change", "what"),
    [
        (_without_rung, "the rung ask_teacher has no texts for 6-8"),
        (_with('text = "Did you add tape? What do you see?"'), "The word “add” tells what to do"),
        (_with('text = "Is it 20 mm off?"'), "A number tells what to do"),
        (_with('text = "Look at your trials."'), "words and a question mark"),
        (_with('text = ""'), "words and a question mark"),
        (_with('text = "What of the {factor}?"'), "needs a plain one"),
        (_with('text = "What of {name}?"\nplain = "What now?"'), "Only {factor}, {old} and {new}"),
        (_with('points = "weather"\ntext = "What now?"'), '`points` is "device" or "use"'),
        (_with('launches = true\ntext = "What now?"'), "must fit every group"),
        (lambda text: text.replace("[[notice.2.wordings]]", "[[notice.2.others]]"), "no wording"),
        (lambda text: text.replace("starters = [", "endings = [", 1), "two starters or more"),
        (lambda text: f"=\n{text}", "cannot be read"),
    ],
)
def test_what_is_not_whole_is_named_with_its_place(change: Callable[[str], str], what: str) -> None:
    """The message names the file, the line and what to mend."""
    with raises(Invalid, match="own") as caught:
        read_ladder(change(WHOLE), "own.toml", "en")
    assert what in sentence_of(caught.value)
    assert "line" in sentence_of(caught.value)


def test_the_line_is_the_one_that_was_written() -> None:
    """Counted from one, as editors do."""
    changed = WHOLE.replace(FIRST, 'text = "Did you cut it?"', 1)
    line = changed.splitlines().index('text = "Did you cut it?"') + 1
    with raises(Invalid, match=f"line {line}:"):
        read_ladder(changed, "own.toml", "en")
