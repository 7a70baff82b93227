"""Trials on a true scale."""

from __future__ import annotations

import math

import pytest

from journal.charts.differences import Difference
from journal.charts.palette import INK, MADDER
from journal.charts.strips import Strip, StripTick, draw_dot_strip, strip_table
from tests.charts.drawings import check_drawing, check_paper, desc, read, texts

TICKS = tuple(StripTick(value=value, name=name) for value, name in (
    (0, "Wall"), (1, "Leaves"), (2, "Trunk"), (4, "Bark"), (8, "Blaze"),
))  # fmt: skip
OLD = Strip(name="Darts 2", note="small fins", values=(1, 2, 4, 4, 4, 4, 4, 4, 8, 8, 8, 8))
NEW = Strip(name="Darts 3", values=(1, 2, 2, 2, 2, 2, 2, 2, 2, 4, 4, 4), misfires=1, newest=True)


def dots(svg: str, colour: str) -> list[tuple[float, float]]:
    """Return the middles of the dots of one colour, which have no outline."""
    return [
        (float(dot.get("cx", "")), float(dot.get("cy", "")))
        for dot in read(svg).iter("{http://www.w3.org/2000/svg}circle")
        if dot.get("fill") == colour and dot.get("stroke") is None
    ]


def test_one_dot_a_trial() -> None:
    """Twelve trials each, old in ink, newest in madder, none lost in a stack."""
    svg = draw_dot_strip([OLD, NEW], ticks=TICKS)
    assert (12, 12) == (len(set(dots(svg, INK))), len(set(dots(svg, MADDER))))


def test_points_lie_on_a_true_scale() -> None:
    """From 4 to 8 is as far as from 0 to 4: single dots stand exactly on their values."""
    strip = Strip(name="One of each", values=(0, 4, 8, 1))
    xs = sorted(x for x, _ in dots(draw_dot_strip([strip], ticks=TICKS), INK))
    assert xs[3] - xs[2] == pytest.approx(xs[2] - xs[0], abs=0.02)
    assert xs[1] - xs[0] == pytest.approx((xs[2] - xs[0]) / 4, abs=0.02)


def test_points_are_named() -> None:
    """Zones and points stand below the lines."""
    written = texts(draw_dot_strip([OLD, NEW], ticks=TICKS))
    assert {"Wall", "Leaves", "Trunk", "Bark", "Blaze", "0", "8", "1 misfire"} <= set(written)


def test_the_mean_is_shown_only_where_asked_for() -> None:
    """59 points in 12 trials are 4.9, 29 in 12 are 2.4 (worked out by hand)."""
    svg = draw_dot_strip([OLD, NEW], ticks=TICKS, show_mean=True)
    assert {"4.9", "2.4"} <= set(texts(svg))
    assert "mean 4.9" in desc(svg)
    hidden = draw_dot_strip([OLD, NEW], ticks=TICKS)
    assert not {"4.9", "2.4"} & set(texts(hidden))
    assert "mean" not in desc(hidden)


def test_measures_bring_their_own_ticks_and_unit() -> None:
    """Measures near each other share a stack, and every one is drawn."""
    loads = tuple(400 + 7.3 * index % 90 for index in range(40))
    svg = draw_dot_strip([Strip(name="Bridge 1", values=loads)], unit="g")
    check_drawing(svg)
    assert len(dots(svg, INK)) == 40
    assert "g" in texts(svg)


def test_values_beyond_the_named_points_make_a_scale_of_their_own() -> None:
    """Nothing is drawn outside its scale."""
    svg = draw_dot_strip([Strip(name="A", values=(-5.0, 20.0))], ticks=TICKS)
    width = float(read(svg).get("width", ""))
    assert all(0 < x < width for x, _ in dots(svg, INK))


def test_a_difference_stands_below() -> None:
    """Value and interval are written with signs, and told in the description."""
    difference = Difference(value=-2.5, low=-3.9, high=-1.1, unit="points")
    svg = draw_dot_strip([OLD, NEW], ticks=TICKS, difference=difference)
    check_drawing(svg)
    assert "\u22122.5 points" in texts(svg)
    assert "\u22123.9 to \u22121.1" in desc(svg)


def test_odd_strips_draw_well() -> None:
    """Nothing, nothing but misfires, NaN, one value a thousand times, names of markup."""
    empty = draw_dot_strip([])
    assert "No trials yet" in texts(empty)
    assert desc(empty) == "No trials yet."
    odd = [
        Strip(name="<script>", values=(math.nan, math.inf), mean=math.nan),
        Strip(name="Only misfires", values=(), misfires=3),
        Strip(name="n" * 200, note="m" * 200, values=(5.0,) * 1000),
    ]
    drawings = [
        empty,
        draw_dot_strip(odd, show_mean=True),
        draw_dot_strip(odd[:1], ticks=TICKS),
        draw_dot_strip(odd[1:2]),
        draw_dot_strip([OLD], difference=Difference(value=None)),
    ]
    for svg in drawings:
        check_drawing(svg)


def test_the_table_holds_every_value() -> None:
    """A line a strip with its values in rising order."""
    table = strip_table([NEW], show_mean=True)
    assert table.rows == (("Darts 3", "12", "1, 2, 2, 2, 2, 2, 2, 2, 2, 4, 4, 4", "1", "2.4"),)


def test_paper_draws_strips_in_silence(caplog: pytest.LogCaptureFixture) -> None:
    """Strips with a difference print without a log record."""
    difference = Difference(value=1, low=-1, high=3)
    svg = draw_dot_strip([OLD, NEW], ticks=TICKS, show_mean=True, difference=difference)
    check_paper([svg], caplog.records)
