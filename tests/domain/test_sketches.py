"""Sketches: what a tablet may send, and the sentence for what it may not."""

from __future__ import annotations

import json

import pytest

from journal.domain.errors import Invalid
from journal.domain.sketches import MOST_POINTS, MOST_STROKES, Sketch, read_sketch
from tests.sentences import raises


def test_reads_strokes_in_the_order_they_were_drawn() -> None:
    """The corners of the grid are on it."""
    sketch = read_sketch("[[[0, 0], [1000, 600]], [[5, 6]]]")

    assert Sketch(strokes=(((0, 0), (1000, 600)), ((5, 6),))) == sketch


@pytest.mark.parametrize("text", ["", "  ", "[]"])
def test_an_untouched_area_is_no_sketch(text: str) -> None:
    """Nothing drawn is nothing answered, not an error."""
    assert read_sketch(text) is None


def test_takes_as_much_as_is_allowed() -> None:
    """The limits themselves are inside."""
    length = MOST_POINTS // MOST_STROKES
    sketch = read_sketch(json.dumps([[[1000, 600]] * length] * MOST_STROKES))

    assert sketch is not None
    assert MOST_STROKES == len(sketch.strokes)


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("[[[1, 2]", "arrive whole"),
        ('{"a": 1}', "arrive whole"),
        ("[" * 50_000, "arrive whole"),
        ("[[]]", "empty"),
        ("[7]", "empty"),
        ("[[[1, 2, 3]]]", "whole number"),
        ("[[[1.5, 2]]]", "whole number"),
        ("[[[NaN, 2]]]", "whole number"),
        ("[[[true, 2]]]", "whole number"),
        ("[[[-1, 2]]]", "leaves the drawing area"),
        ("[[[1, 601]]]", "leaves the drawing area"),
        (json.dumps([[[1, 2]]] * (MOST_STROKES + 1)), "more than 200 strokes"),
        (json.dumps([[[1, 2]] * (MOST_POINTS + 1)]), "too long"),
        (" " * 100_001 + "[]", "too big"),
    ],
)
def test_says_what_is_wrong_with_a_sketch(text: str, part: str) -> None:
    """Each sentence stands at the sketch and says how to mend it."""
    with raises(Invalid, match=part) as caught:
        read_sketch(text)

    assert ["sketch"] == list(caught.value.by_field())
