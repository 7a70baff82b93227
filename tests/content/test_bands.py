"""What each band may see of the numbers."""

from __future__ import annotations

from journal.content.bands import which_measures
from journal.domain.classes import GradeBand


def test_grade_2_counts() -> None:
    """Common Core 2.MD.D.10 (2010): picture and bar graphs, more and fewer, no averages."""
    measures = which_measures(GradeBand.TWO)
    assert measures.show_counts
    assert not any((measures.show_mean, measures.show_median, measures.show_decimals))


def test_grades_3_to_5_see_dots_and_biggest_minus_smallest() -> None:
    """Common Core 3.MD.B.4 and 4.MD.B.4 (2010): line plots and differences, no averages."""
    measures = which_measures(GradeBand.THREE_TO_FIVE)
    assert measures.show_dot_plot
    assert measures.show_range
    assert not any((measures.show_mean, measures.show_median, measures.show_quartiles))


def test_grades_6_to_8_see_centre_and_spread() -> None:
    """Common Core 6.SP.B.4-5 (2010): dot plot, box plot, mean, median, deviation."""
    measures = which_measures(GradeBand.SIX_TO_EIGHT)
    assert measures.show_mean
    assert measures.show_median
    assert measures.show_box_plot
    assert measures.show_deviation


def test_no_band_sees_a_p_value() -> None:
    """A p-value is for the teacher to open."""
    assert not any(which_measures(band).show_p_value for band in GradeBand)
