"""The line of a lesson."""

from __future__ import annotations

import re

import pytest

from journal.charts.lesson_lines import draw_lesson_line


def _draw(share: float) -> str:
    return draw_lesson_line(
        share=share,
        clean_up_share=39 / 45,
        start="9:04",
        end="9:49",
        title="The lesson",
        desc="9:04 to 9:49, clean-up at 9:43",
    )


@pytest.mark.parametrize(
    ("share", "x"), [(-1.0, 20), (0.0, 20), (0.5, 210), (1.0, 400), (2.0, 400)]
)
def test_now_stands_where_the_lesson_is(share: float, x: float) -> None:
    """Half way in the middle; before the start and after the end it stays on the line."""
    found = re.search(r'<circle[^>]*cx="([^"]+)"', _draw(share))
    assert found
    assert x == float(found[1])


def test_start_and_end_are_written_and_all_of_it_is_told() -> None:
    """The notch of the clean-up has its time in words beside the drawing and in its description."""
    svg = _draw(0.3)
    assert ["9:04", "9:49"] == re.findall(r"<text[^>]*>([^<]+)</text>", svg)
    assert "<desc>9:04 to 9:49, clean-up at 9:43</desc>" in svg
