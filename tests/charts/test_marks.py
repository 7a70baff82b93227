"""The marks of children: one to five strokes on a stem."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

import journal.web
from journal.charts.marks import MOST_STROKES, describe_strokes, stem, stem_width_px

MARKS = Path(journal.web.__file__).parent / "static" / "marks.svg"
HEIGHT_PX = 24.0
LINE = re.compile(r"M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)")


def _lines(path: str) -> list[tuple[float, ...]]:
    data = ET.fromstring(path).get("d", "")  # noqa: S314 - our own drawing
    return [tuple(map(float, found)) for found in LINE.findall(data)]


@pytest.mark.parametrize("strokes", range(1, MOST_STROKES + 1))
def test_a_stem_has_its_strokes_and_sticks_out(strokes: int) -> None:
    """They stand apart by more than a line, inside the stem, all to the right and rising."""
    upright, lines = (_lines(path) for path in stem(strokes, 2, 0, HEIGHT_PX))
    assert [(2, 0, 2, HEIGHT_PX)] == upright
    assert strokes == len(lines)
    starts = [y for _, y, _, _ in lines]
    # At least a line's width of ground between two strokes, so that grey and paper show them apart.
    width = HEIGHT_PX * 0.066
    assert all(below - above > 2 * width for above, below in pairwise(starts))
    for x1, y1, x2, y2 in lines:
        assert (x1, x2 <= 2 + stem_width_px(HEIGHT_PX), y2 < y1) == (2, True, True)
        assert 0 < y2 < HEIGHT_PX
        assert 0 < y1 < HEIGHT_PX


@pytest.mark.parametrize("strokes", [-1, 0, 6])
def test_another_number_of_strokes_is_refused(strokes: int) -> None:
    """Six strokes could not be counted at a glance."""
    with pytest.raises(ValueError, match="1 to 5 strokes"):
        stem(strokes, 0, 0, HEIGHT_PX)


def test_strokes_in_words() -> None:
    """Who hears the page counts too."""
    assert ("1 stroke", "4 strokes") == (describe_strokes(1), describe_strokes(4))


def test_pages_and_drawings_show_the_same_marks() -> None:
    """The file of marks holds five stems as the drawings write them, and no other shape."""
    root = ET.parse(MARKS).getroot()  # noqa: S314 - our own file
    symbols = {one.get("id"): one for one in root}
    assert [f"member-{strokes}" for strokes in range(1, 6)] == list(symbols)
    for strokes in range(1, 6):
        paths = list(symbols[f"member-{strokes}"])
        assert {"{http://www.w3.org/2000/svg}path"} == {path.tag for path in paths}
        written = [_lines(path) for path in stem(strokes, 1.6, 0, HEIGHT_PX)]
        kept = [
            [tuple(map(float, found)) for found in LINE.findall(path.get("d", ""))]
            for path in paths
        ]
        assert written == kept
