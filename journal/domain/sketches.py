"""A sketch as an answer: strokes of a finger come in as JSON text, checked strokes go out."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import NoReturn, TypeAlias

from journal.domain.errors import Invalid
from journal.domain.messages import Message, Words

#: The grid that points are kept on, whatever the size of the screen.
GRID_WIDTH = 1000
GRID_HEIGHT = 600
MOST_STROKES = 200
MOST_POINTS = 5000
#: Far above what so many points need; longer text is refused before it is read.
_MOST_LETTERS = 100_000
_POINT_LENGTH = 2

Point: TypeAlias = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """Strokes in the order they were drawn, each a row of points on the grid."""

    strokes: tuple[tuple[Point, ...], ...]


def read_sketch(text: str) -> Sketch | None:
    """Return the sketch of a JSON text such as `[[[0, 0], [10, 5]]]`, None for an empty one.

    Raises Invalid at "sketch" for too many strokes or points, and for anything that is no sketch.
    """
    if not text.strip():
        return None
    if len(text) > _MOST_LETTERS:
        _refuse(Message("sketches.sketch_is_too_big"))
    try:
        given = json.loads(text)
    except (ValueError, RecursionError):
        _refuse(Message("sketches.sketch_did_not_arrive_whole"))
    if not isinstance(given, list):
        _refuse(Message("sketches.sketch_did_not_arrive_whole"))
    if len(given) > MOST_STROKES:
        _refuse(Message("sketches.sketch_has_more_than_strokes", most_strokes=MOST_STROKES))
    strokes = tuple(_read_stroke(stroke) for stroke in given)
    if sum(map(len, strokes)) > MOST_POINTS:
        _refuse(Message("sketches.sketch_is_too_long"))
    return Sketch(strokes=strokes) if strokes else None


def _read_stroke(given: object) -> tuple[Point, ...]:
    if not isinstance(given, list) or not given:
        _refuse(Message("sketches.stroke_of_the_sketch_is_empty"))
    return tuple(_read_point(point) for point in given)


def _read_point(given: object) -> Point:
    # A bool is an int in Python, but no place on the grid.
    if (
        not isinstance(given, list)
        or len(given) != _POINT_LENGTH
        or any(type(number) is not int for number in given)
    ):
        _refuse(Message("sketches.sketch_has_a_point_that_is_no_whole"))
    x, y = given
    if not (0 <= x <= GRID_WIDTH and 0 <= y <= GRID_HEIGHT):
        _refuse(Message("sketches.sketch_leaves_the_drawing_area"))
    return x, y


def _refuse(what: Words) -> NoReturn:
    raise Invalid.at("sketch", what)
