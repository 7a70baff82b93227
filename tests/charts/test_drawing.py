"""The writer of SVG."""

from __future__ import annotations

import math

import pytest

from journal.charts.drawing import draw, element, figure, fit_text, label, text_width_px
from journal.charts.tables import cell, mean_text
from tests.charts.drawings import check_drawing, read, texts


@pytest.mark.parametrize(
    ("value", "expected"),
    [(1.0, "1"), (0.126, "0.13"), (-0.001, "0"), (100.0, "100"), (-2.5, "-2.5")],
)
def test_figures_are_short(value: float, expected: str) -> None:
    """A number is written without needless zeros and without a negative zero."""
    assert expected == figure(value)


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_figures_are_finite(value: float) -> None:
    """A number that is not finite never reaches a drawing."""
    with pytest.raises(ValueError, match="finite"):
        figure(value)


def test_every_name_is_escaped() -> None:
    """A name made of markup, quotes and signs that XML cannot hold is drawn as plain text."""
    name = "<script>alert('x')</script> & \"Pim\" \x00\x0b"
    svg = draw(
        label(0, 10, name),
        element("rect", id=name, width=1, height=1),
        width_px=10,
        height_px=10,
        title=name,
        desc=name,
    )
    assert "<script" not in svg
    assert ["<script>alert('x')</script> & \"Pim\" "] == texts(svg)
    assert read(svg)[0].text == "<script>alert('x')</script> & \"Pim\" "
    check_drawing(svg)


def test_long_text_is_cut_to_its_room() -> None:
    """Text that has no room ends in an ellipsis, and vanishes where not even that fits."""
    text = "a very long change of the launcher"
    assert text == fit_text(text, 18, 1000)
    cut = fit_text(text, 18, 100)
    assert cut.endswith("…")
    assert text_width_px(cut, 18) <= 100
    assert fit_text(text, 18, 3) == ""


def test_means_round_halves_up() -> None:
    """A half goes away from zero, as taught in school; common practice, no source."""
    assert ["1.3", "-1.3", "3.0", "2.7"] == [mean_text(x) for x in (1.25, -1.25, 3, 2.6500001)]


def test_cells_tell_when_there_is_nothing() -> None:
    """A cell without a finite number is a dash."""
    assert ["–", "–", "–", "4", "0.5"] == [cell(x) for x in (None, math.nan, math.inf, 4.0, 0.5)]
