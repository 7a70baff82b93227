"""Amount beside outcome."""

from __future__ import annotations

import math

import pytest

from journal.charts.palette import INK, MADDER
from journal.charts.scatters import AmountPoint, TrendLine, draw_scatter, scatter_table
from tests.charts.drawings import check_drawing, check_paper, count, desc, read, texts

POINTS = tuple(
    AmountPoint(amount=amount, value=value, newest=amount > 4)
    for amount, value in ((1, 1), (2, 2), (3, 4), (3, 4), (3, 4), (5, 8), (6, 4))
)


def middles(svg: str) -> list[tuple[float, float]]:
    """Return the middles of the dots."""
    return [(float(dot.get("cx", "")), float(dot.get("cy", "")))
            for dot in read(svg).iter("{http://www.w3.org/2000/svg}circle")]  # fmt: skip


def test_one_dot_a_trial_even_for_equal_pairs() -> None:
    """Seven trials, seven places; the newest in madder and larger."""
    svg = draw_scatter(POINTS)
    check_drawing(svg)
    assert len(set(middles(svg))) == 7
    assert count(svg, "circle", fill=MADDER) == 2
    assert count(svg, "circle", fill=INK, r="5") == 5


def test_the_line_reaches_over_the_tried_amounts_only() -> None:
    """A line of slope 1 from 1 to 6 runs between the outermost dots' places."""
    svg = draw_scatter(POINTS, line=TrendLine(slope=1.0, intercept=0.0))
    lines = [p.get("d", "") for p in read(svg).iter("{http://www.w3.org/2000/svg}path")
             if p.get("stroke-width") == "2.5"]  # fmt: skip
    assert len(lines) == 1
    start, end = (part.split() for part in lines[0].lstrip("M").split("L"))
    xs = [x for x, _ in middles(svg)]
    assert (float(start[0]), float(end[0])) == pytest.approx((min(xs), max(xs)), abs=0.02)


@pytest.mark.parametrize("line", [
    TrendLine(slope=0.0, intercept=900.0),
    TrendLine(slope=math.nan, intercept=0.0),
    TrendLine(slope=1e9, intercept=-3e9),
    TrendLine(slope=-3.0, intercept=12.0),
])  # fmt: skip
def test_a_line_never_leaves_the_field(line: TrendLine) -> None:
    """A line beside the field is not drawn, a steep one is cut at its edge."""
    svg = draw_scatter(POINTS, line=line)
    check_drawing(svg)
    for path in read(svg).iter("{http://www.w3.org/2000/svg}path"):
        if path.get("stroke-width") == "2.5":
            ys = [float(part.split()[1]) for part in path.get("d", "").lstrip("M").split("L")]
            assert all(0 <= y <= 340 for y in ys)


def test_odd_points_draw_well() -> None:
    """Nothing, NaN and one point; what cannot be drawn is counted in words."""
    assert "No trials yet" in texts(draw_scatter([]))
    assert desc(draw_scatter([])) == "No trials yet."
    odd = [AmountPoint(amount=math.nan, value=1), AmountPoint(amount=2, value=3)]
    svg = draw_scatter(odd, amount_name="<drops>", line=TrendLine(slope=1, intercept=1))
    check_drawing(svg)
    assert desc(svg) == "Points by <drops>. 2: 3. 1 not drawn."


def test_the_table_holds_the_pairs() -> None:
    """A line a trial."""
    table = scatter_table(POINTS[:2], amount_name="Paint, drops")
    assert table.header == ("Trial", "Paint, drops", "Points")
    assert table.rows == (("1", "1", "1"), ("2", "2", "2"))


def test_paper_draws_scatters_in_silence(caplog: pytest.LogCaptureFixture) -> None:
    """A scatter prints without a log record."""
    check_paper([draw_scatter(POINTS, line=TrendLine(slope=1, intercept=0))], caplog.records)
