"""What results are put down to: bars, with words beside them."""

from __future__ import annotations

import pytest

from journal.charts.causes import CauseShare, causes_table, draw_causes
from journal.charts.palette import INK
from tests.charts.drawings import check_drawing, check_paper, count, desc, texts

SHARES = (
    CauseShare(name="Device", in_100=79, words="about 8 in 10", is_named=True),
    CauseShare(name="Both", in_100=12, words="about 1 in 10"),
    CauseShare(name="Use", in_100=4, words="under 1 in 10"),
    CauseShare(name="None", in_100=5, words="about 1 in 10"),
)


def test_only_what_is_named_is_solid() -> None:
    """A filled bar is a word said; each bar carries its figure."""
    svg = draw_causes(SHARES)
    check_drawing(svg)
    assert (4, 1) == (count(svg, "rect"), count(svg, "rect", fill=INK))
    assert "about 8 in 10" in texts(svg)
    assert (
        "Device about 8 in 10; Both about 1 in 10; Use under 1 in 10; None about 1 in 10"
        == desc(svg)
    )


def test_nothing_named_leaves_every_bar_open() -> None:
    """Cannot tell is said in words, beside the drawing."""
    svg = draw_causes(SHARES[1:])
    assert 0 == count(svg, "rect", fill=INK)


@pytest.mark.parametrize("in_100", [-5, 0, 100, 5000])
def test_a_share_out_of_range_stays_in_the_drawing(in_100: int) -> None:
    """No bar leaves its room."""
    check_drawing(draw_causes([CauseShare(name="Use", in_100=in_100, words="some")]))


def test_it_can_be_drawn_without_shares() -> None:
    """An empty drawing is still whole."""
    check_drawing(draw_causes([]))


def test_the_table_says_the_same() -> None:
    """One row a reading."""
    table = causes_table(SHARES, caption="How sure")
    assert ("Device", "about 8 in 10") == table.rows[0]
    assert 4 == len(table.rows)


def test_paper_takes_it(caplog: pytest.LogCaptureFixture) -> None:
    """Without a word in the log of the printer."""
    check_paper([draw_causes(SHARES)], caplog.records)
