"""A difference with its interval."""

from __future__ import annotations

import math

import pytest

from journal.charts.differences import (
    Difference,
    describe_difference,
    signed_text,
    write_difference,
)
from journal.charts.drawing import draw
from journal.charts.palette import INK, PAPER
from tests.charts.drawings import check_drawing, check_paper, count, texts


def drawn(difference: Difference) -> str:
    """Return a drawing of one difference and nothing else."""
    parts, height_px = write_difference(
        difference, (110, 488, 0), text_px=16, name="Difference", interval_name="95 %",
        ground=PAPER,
    )  # fmt: skip
    return draw(
        *parts,
        width_px=504,
        height_px=height_px,
        title="Difference",
        desc=describe_difference(difference),
        ids="difference",
    )


def test_clear_of_zero_is_a_heavy_bar_and_a_solid_dot() -> None:
    """Weight and fill, not colour, tell whether zero is left out."""
    svg = drawn(Difference(value=2.5, low=0.7, high=4.2, unit="points"))
    assert (1, 1) == (count(svg, "path", stroke_width="4"), count(svg, "circle", fill=INK))


@pytest.mark.parametrize(("low", "high"), [(-0.4, 5.4), (0.0, 5.0), (-5.0, 0.0)])
def test_not_told_apart_is_a_thin_bar_and_an_open_dot(low: float, high: float) -> None:
    """An interval that holds zero, or ends on it, is not clear of it."""
    svg = drawn(Difference(value=(low + high) / 2, low=low, high=high))
    assert (0, 1) == (count(svg, "path", stroke_width="4"), count(svg, "circle", fill=PAPER))


def test_without_an_interval_the_dot_is_open() -> None:
    """No interval, no heavy word."""
    difference = Difference(value=3.0)
    assert not difference.is_clear_of_zero
    assert describe_difference(difference) == "Difference +3.0."


@pytest.mark.parametrize("value", [None, math.nan, math.inf])
def test_what_cannot_be_told_is_said(value: float | None) -> None:
    """A difference that is not there is words, never a bar."""
    svg = drawn(Difference(value=value, low=1, high=2))
    check_drawing(svg)
    assert "Cannot be told yet" in texts(svg)
    assert count(svg, "circle") == 0


def test_signs_are_written() -> None:
    """Plus, minus sign, and neither on zero or what rounds to it."""
    assert [signed_text(x) for x in (2.5, -0.06, 0.0, -0.04, 1.25)] == [
        "+2.5", "\u22120.1", "0.0", "0.0", "+1.3",
    ]  # fmt: skip


def test_paper_draws_differences_in_silence(caplog: pytest.LogCaptureFixture) -> None:
    """A difference prints without a log record."""
    check_paper([drawn(Difference(value=1, low=-1, high=3))], caplog.records)
