"""The pairs of a swap test."""

from __future__ import annotations

import math

import pytest

from journal.charts.palette import INK, PAPER
from journal.charts.strip_marks import StripTick
from journal.charts.swaps import PairMark, draw_swap, swap_table
from tests.charts.drawings import check_drawing, check_paper, count, desc, read, texts

NAMES = ("Launcher 2", "Launcher 3")
ZONES = [StripTick(value=v, name=n) for v, n in
         ((8, "Blaze"), (4, "Bark"), (2, "Trunk"), (1, "Leaves"), (0, "Wall"))]  # fmt: skip
PAIRS = [
    PairMark(student="Pim", old=4.0, new=8.0),
    PairMark(student="Pim", old=4.0, new=1.0, old_first=False),
    PairMark(student="Juno", old=None, new=2.0),
]


def test_one_line_a_pair_open_old_and_full_new() -> None:
    """Two whole pairs, one lost to a misfire; the key has a dot of each as well."""
    svg = draw_swap(PAIRS, names=NAMES, ticks=ZONES)
    check_drawing(svg)
    assert 2 == count(svg, "path", stroke_width="2", stroke=INK)
    assert (2 + 1, 3 + 1) == (count(svg, "circle", fill=PAPER), count(svg, "circle", fill=INK))
    assert {"Pim", "Juno", *NAMES, "Blaze 8", "Wall 0"} <= set(texts(svg))


def test_what_came_first_stands_at_the_left() -> None:
    """The second pair began with the new one."""
    svg = draw_swap(PAIRS[:2], names=NAMES, ticks=ZONES)
    dots = [(float(dot.get("cx", 0)), dot.get("fill")) for dot in read(svg).iter(
        "{http://www.w3.org/2000/svg}circle")]  # fmt: skip
    (old_1, _), (new_1, _), (old_2, _), (new_2, _) = dots[2:]
    assert old_1 < new_1 < new_2 < old_2


def test_a_measure_has_a_scale_of_its_own() -> None:
    """Values beyond the named rows, or without any, get round ticks."""
    svg = draw_swap([PairMark(student="Pim", old=312.0, new=350.0)], names=NAMES, unit="mm")
    check_drawing(svg)
    assert "350" in texts(svg)
    assert "Pim: 312 mm with Launcher 2, 350 mm with Launcher 3." == desc(svg)


@pytest.mark.parametrize("value", [None, math.nan, math.inf])
def test_what_is_no_number_is_a_misfire(value: float | None) -> None:
    """No NaN gets into a drawing."""
    svg = draw_swap([PairMark(student="Pim", old=value, new=2.0)], names=NAMES, ticks=ZONES)
    check_drawing(svg)
    assert "Pim: a misfire with Launcher 2, 2 with Launcher 3." == desc(svg)


def test_before_the_first_pair_it_says_so() -> None:
    """Nothing to draw is words."""
    svg = draw_swap([], names=NAMES, ticks=ZONES)
    check_drawing(svg)
    assert "No pairs yet" in texts(svg)


def test_the_table_holds_every_pair() -> None:
    """A line a pair, a dash for a misfire."""
    table = swap_table(PAIRS, names=NAMES, unit="points")
    assert ("Who", "Launcher 2, points", "Launcher 3, points") == table.header
    assert (("Pim", "4", "8"), ("Pim", "4", "1"), ("Juno", "–", "2")) == table.rows


def test_paper_draws_it_in_silence(caplog: pytest.LogCaptureFixture) -> None:
    """A swap test prints without a log record."""
    check_paper([draw_swap(PAIRS, names=NAMES, ticks=ZONES)], caplog.records)
