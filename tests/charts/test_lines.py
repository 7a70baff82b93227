"""Outcomes in the order of the trials."""

from __future__ import annotations

import math

import pytest

from journal.charts.lines import TimedOutcome, draw_outcome_line, outcome_table
from journal.charts.palette import EDGE, MADDER
from tests.charts.drawings import check_drawing, check_paper, count, desc, read, texts

OUTCOMES = tuple(
    TimedOutcome(value=value, revision=revision, newest=revision == "3", who="Pim")
    for revision, run in (("1", (1, 0, None, 4)), ("2", (2, 8)), ("3", (8, None, 4, 8, 8)))
    for value in run
)


def test_one_dot_a_trial_and_one_hop_a_misfire() -> None:
    """Nine dots, of which four are now, two hops, three discs of revisions."""
    svg = draw_outcome_line(OUTCOMES)
    check_drawing(svg)
    dots = [dot for dot in read(svg).iter("{http://www.w3.org/2000/svg}circle")
            if dot.get("stroke") is None]  # fmt: skip
    assert len(dots) == 9
    assert sum(dot.get("fill") == MADDER for dot in dots) == 4
    hops = [p for p in read(svg).iter("{http://www.w3.org/2000/svg}path") if "a" in p.get("d", "")]
    assert len(hops) == 2


def test_a_line_joins_trials_of_one_revision_only() -> None:
    """Three revisions, three lines; a dotted line where each but the first begins."""
    svg = draw_outcome_line(OUTCOMES)
    assert count(svg, "path", stroke=EDGE) == 3
    assert count(svg, "path", stroke_dasharray="1.5 4.5") == 2
    assert {"1", "2", "3"} <= set(texts(svg))


def test_dots_walk_to_the_right() -> None:
    """Order of trials is order on the page, and a better value is higher up."""
    svg = draw_outcome_line(OUTCOMES[:2])
    places = [(float(dot.get("cx", "")), float(dot.get("cy", "")))
              for dot in read(svg).iter("{http://www.w3.org/2000/svg}circle")
              if dot.get("stroke") is None]  # fmt: skip
    assert places[0][0] < places[1][0]
    assert places[0][1] < places[1][1]


def test_odd_outcomes_draw_well() -> None:
    """Nothing, only misfires, NaN, and ten thousand trials."""
    assert "No trials yet" in texts(draw_outcome_line([]))
    assert desc(draw_outcome_line([])) == "No trials yet."
    odd = [TimedOutcome(value=x, revision="<9>") for x in (None, math.nan, math.inf)]
    many = [TimedOutcome(value=index % 9, revision=str(index // 1000)) for index in range(10_000)]
    for outcomes in ([], odd, many):
        check_drawing(draw_outcome_line(outcomes))


def test_the_table_holds_the_trials() -> None:
    """A misfire has no value."""
    assert outcome_table(OUTCOMES).rows[1:3] == (("2", "1", "Pim", "0"),
                                                 ("3", "1", "Pim", "misfire"))  # fmt: skip


def test_paper_draws_outcomes_in_silence(caplog: pytest.LogCaptureFixture) -> None:
    """Outcomes print without a log record."""
    check_paper([draw_outcome_line(OUTCOMES)], caplog.records)
