"""The drawing of a sketch."""

from __future__ import annotations

import logging

import pytest

from journal.charts.sketches import draw_sketch
from journal.domain.sketches import Sketch
from tests.charts.drawings import SVG, check_drawing, check_paper, count, read

SKETCH = Sketch(strokes=(((0, 0), (1000, 600)), ((500, 300),)))


def test_keeps_the_promises_of_drawings(caplog: pytest.LogCaptureFixture) -> None:
    """The same drawing goes on a screen and on paper."""
    with caplog.at_level(logging.WARNING):
        svg = draw_sketch(SKETCH, group="Group 4")
        check_drawing(svg)
        check_paper([svg], caplog.records)


def test_scales_the_grid_to_the_width() -> None:
    """Corner to corner stays corner to corner, and a tap in the middle is a dot there."""
    svg = draw_sketch(SKETCH, group="Group 4", width_px=500)

    assert count(svg, "path", d="M0 0L500 300") == 1
    assert count(svg, "circle", cx="250", cy="150") == 1


def test_is_read_out_as_the_groups_sketch() -> None:
    """A name is text, whatever signs are in it."""
    root = read(draw_sketch(SKETCH, group="<Reed & Ash>"))

    assert root.findtext(f"{SVG}title") == "Sketch by <Reed & Ash>"
    assert root.findtext(f"{SVG}desc") == "2 strokes."
