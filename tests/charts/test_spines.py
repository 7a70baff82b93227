"""The spine of a group."""

from __future__ import annotations

import pytest

from journal.charts.palette import GROUP_HUES
from journal.charts.spines import describe_group, draw_spine
from tests.charts.drawings import check_drawing, check_paper, count, texts


@pytest.mark.parametrize("number", [1, 2, 3, 4, 5, 6, 7, 8, 9, 17, 100])
def test_spines_keep_the_promises_of_drawings(number: int) -> None:
    """Each number has a band, with its number on the plate and without one."""
    spine, bare = draw_spine(number, 768), draw_spine(number, 84, numbered=False)
    for svg in (spine, bare):
        check_drawing(svg)
    assert ([str(number)], []) == (texts(spine), texts(bare))


def test_the_first_eight_groups_differ_in_words() -> None:
    """The pattern, which grey shows too, tells eight groups apart."""
    assert len({describe_group(number).split(": ")[1] for number in range(1, 9)}) == 8


def test_the_ninth_group_has_the_first_set_and_its_own_number() -> None:
    """Sets come round after eight; the number on the plate goes on."""
    assert describe_group(9) == "Group 9: two bars"
    assert count(draw_spine(9, 768), "rect", fill=GROUP_HUES[0]) == 1


def test_the_hues_are_those_made_for_colour_blind_readers() -> None:
    """Seven of Okabe and Ito's eight colours (their black is our ink).

    Source: M. Okabe, K. Ito, "Color Universal Design", 2008; hex values from memory.
    """
    okabe_ito = {"#E69F00", "#56B4E9", "#009E73", "#F0E442", "#0072B2", "#D55E00", "#CC79A7"}
    assert okabe_ito == set(GROUP_HUES[:7])


def test_patterns_are_written_out() -> None:
    """No drawing leans on a pattern, whose tiles show seams on paper, or on another drawing."""
    for number in range(1, 9):
        assert count(draw_spine(number, 300), "pattern") == 0
        assert "url(" not in draw_spine(number, 300)


def test_paper_draws_spines_in_silence(caplog: pytest.LogCaptureFixture) -> None:
    """Bands print without a log record."""
    check_paper([draw_spine(n, 300) for n in range(1, 9)], caplog.records)
