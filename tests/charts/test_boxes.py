"""Box plots."""

from __future__ import annotations

import math

import pytest

from journal.charts.boxes import Box, box_table, draw_boxes
from journal.charts.palette import SUNK_2
from tests.charts.drawings import check_drawing, check_paper, count, desc, read, texts


def make_box(**fields: object) -> Box:
    """Make a box of seven values with quartiles 2 and 6, and 20 as a striking value."""
    whole = {
        "name": "Bridge 1", "lowest": 1.0, "lower_quartile": 2.0, "median": 4.0,
        "upper_quartile": 6.0, "highest": 7.0, "values": (1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 20.0),
        "striking": (20.0,),
    } | fields  # fmt: skip
    return Box(**whole)  # type: ignore[arg-type]


def test_a_box_stands_over_its_dots() -> None:
    """One box, one dot a trial, and a ring round the striking value."""
    svg = draw_boxes([make_box()])
    check_drawing(svg)
    assert count(svg, "rect", fill=SUNK_2) == 1
    assert count(svg, "circle", fill="none") == 1
    assert count(svg, "circle") == 8


def test_box_and_dots_share_one_scale() -> None:
    """The box's edges lie at the dots of 2 and 6."""
    svg = draw_boxes([make_box()])
    rect = read(svg).find("{*}rect")
    assert rect is not None
    left = float(rect.get("x", ""))
    right = left + float(rect.get("width", ""))
    xs = sorted(float(dot.get("cx", "")) for dot in read(svg).findall("{*}circle")
                if dot.get("fill") != "none")  # fmt: skip
    assert (left, right) == pytest.approx((xs[1], xs[5]), abs=0.02)


def test_words_and_table_hold_the_five_numbers() -> None:
    """Description and table say what is drawn."""
    assert desc(draw_boxes([make_box()])) == (
        "Bridge 1: 1 to 7, half between 2 and 6, median 4; striking 20."
    )
    assert box_table([make_box()]).rows == (("Bridge 1", "7", "1", "2", "4", "6", "7", "20"),)


def test_odd_boxes_draw_well() -> None:
    """Nothing, NaN in the five numbers, all values equal, names of markup."""
    assert "No trials yet" in texts(draw_boxes([]))
    odd = make_box(name="<script>", median=math.nan, values=(1.0,), striking=())
    level = make_box(lowest=3.0, lower_quartile=3.0, median=3.0, upper_quartile=3.0, highest=3.0,
                     values=(3.0,) * 500, striking=(), newest=True)  # fmt: skip
    for boxes in ([], [odd], [level, odd]):
        check_drawing(draw_boxes(boxes))
    assert desc(draw_boxes([odd])) == "<script>: too few trials for a box."


def test_paper_draws_boxes_in_silence(caplog: pytest.LogCaptureFixture) -> None:
    """Box plots print without a log record."""
    check_paper([draw_boxes([make_box(), make_box(newest=True)])], caplog.records)
