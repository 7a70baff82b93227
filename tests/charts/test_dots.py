"""Every trial as a dot in the row of its points."""

from __future__ import annotations

import math

import pytest

from journal.charts.dots import (
    Dot,
    DotColumn,
    DotRow,
    describe_dots,
    dots_table,
    draw_dot_rows,
    draw_small_dot_rows,
)  # fmt: skip
from journal.charts.drawing import text_width_px
from journal.charts.families import FamilyMark
from journal.charts.palette import INK, MADDER
from tests.charts.drawings import check_drawing, check_paper, count, desc, read, texts

ROWS = tuple(
    DotRow(key=name.lower(), name=name, value=value, figure=f"{value:g}")
    for name, value in (("Blaze", 8.0), ("Bark", 4.0), ("Trunk", 2.0), ("Leaves", 1.0),
                        ("Wall", 0.0))
)  # fmt: skip


def column(number: int, counts: str, misfires: int = 0, **fields: object) -> DotColumn:
    """Make a column from how many trials lie in each row, such as "01223"."""
    dots = [Dot(row=row.key) for row, digit in zip(ROWS, counts, strict=True)
            for _ in range(int(digit))]  # fmt: skip
    newest = bool(fields.pop("newest", False))
    mark = FamilyMark(label=str(number), parent=number - 2 if number > 1 else None, newest=newest)
    return DotColumn(revision=mark, dots=tuple(dots), misfires=misfires, **fields)  # type: ignore[arg-type]


COLUMNS = (column(1, "01223", 2), column(2, "14520", 1), column(3, "65110", 1, newest=True))


def trials(svg: str, colour: str) -> int:
    """Count the dots, which are the only circles without an outline when heads are left out."""
    return sum(
        found.get("fill") == colour and found.get("stroke") is None
        for found in read(svg).iter("{http://www.w3.org/2000/svg}circle")
    )


def test_one_dot_a_trial_and_one_hop_a_misfire() -> None:
    """20 older trials in ink, 13 of the newest revision in madder, 4 hops and the sign beside."""
    svg = draw_dot_rows(COLUMNS, ROWS, heads=False)
    assert (20, 13) == (trials(svg, INK), trials(svg, MADDER))
    hops = [path for path in read(svg).iter("{http://www.w3.org/2000/svg}path")
            if "a" in path.get("d", "")]  # fmt: skip
    assert len(hops) == 5


def test_dots_stand_in_the_row_of_their_points() -> None:
    """Dots of one row share a height, rows are evenly spaced, the best is on top."""
    svg = draw_dot_rows([column(1, "11111")], ROWS, heads=False, row_px=20)
    heights = [
        float(dot.get("cy", "")) for dot in read(svg).iter("{http://www.w3.org/2000/svg}circle")
    ]
    assert heights == pytest.approx([heights[0] + 20 * n for n in range(5)])


def test_the_mean_is_shown_only_where_asked_for() -> None:
    """The figure follows from the dots: (4 + 2*2 + 2*1 + 3*0) / 8 = 1.25, a half goes up."""
    shown = draw_dot_rows(COLUMNS[:1], ROWS, show_mean=True)
    hidden = draw_dot_rows(COLUMNS[:1], ROWS)
    assert "1.3" in texts(shown)
    assert "mean 1.3" in desc(shown)
    assert "1.3" not in texts(hidden)
    assert "mean" not in desc(hidden)


def test_the_mean_bar_lies_between_its_rows() -> None:
    """A mean of 3 lies halfway between the rows of 4 and 2."""
    svg = draw_dot_rows([column(1, "01100")], ROWS, show_mean=True, heads=False, row_px=20)
    dots = [
        float(dot.get("cy", "")) for dot in read(svg).iter("{http://www.w3.org/2000/svg}circle")
    ]
    bars = [found.get("d", "") for found in read(svg).iter("{http://www.w3.org/2000/svg}path")
            if found.get("stroke-width") == "3"]  # fmt: skip
    assert len(bars) == 1
    assert float(bars[0].split("L")[0].split()[1]) == pytest.approx(sum(dots) / 2)


def test_a_wide_mean_stays_clear_of_the_names_of_rows() -> None:
    """A mean of many figures ends before the dots and begins after the steps of the measure."""
    steps = tuple(
        DotRow(key=str(low), name="", value=low + 25, figure=f"{low} to {low + 50}")
        for low in (200, 150, 100)
    )
    held = DotColumn(
        revision=FamilyMark(label="1", newest=True),
        dots=(Dot(row="200"), Dot(row="150"), Dot(row="100")),
        mean=172.5,
    )
    drawn = read(draw_dot_rows([held], steps, show_mean=True, heads=False))
    written = {
        "".join(one.itertext()): float(one.get("x", "0"))
        for one in drawn.iter("{http://www.w3.org/2000/svg}text")
    }
    # Both are set flush right: the mean needs its own width between the two ends.
    between_px = written["172.5"] - written["150 to 200"]
    assert between_px > text_width_px("172.5", 18, bold=True)


def test_counted_trials_stand_in_a_frame() -> None:
    """A frame, and not a colour, tells a counted trial."""
    dots = (Dot(row="blaze", counted=True), Dot(row="blaze"), Dot(row="bark", counted=True))
    svg = draw_dot_rows([DotColumn(revision=FamilyMark(label="1"), dots=dots)], ROWS, heads=False)
    assert count(svg, "rect", stroke=INK) == 2
    assert trials(svg, INK) == 3


def test_all_columns_share_one_size_of_dot() -> None:
    """A crowded revision makes every dot small, so that sizes say nothing."""
    crowded = DotColumn(revision=FamilyMark(label="9"), dots=(Dot(row="bark"),) * 60)
    svg = draw_dot_rows([*COLUMNS, crowded], ROWS, heads=False)
    radii = {dot.get("r") for dot in read(svg).iter("{http://www.w3.org/2000/svg}circle")}
    assert len(radii) == 1


def test_many_revisions_go_on_below() -> None:
    """Twelve revisions stand in two bands, every one with its number and its dots."""
    many = [column(n, "11111", newest=n == 12) for n in range(1, 13)]
    svg = draw_dot_rows(many, ROWS, show_mean=True)
    check_drawing(svg)
    assert texts(svg).count("Blaze") == 2
    assert trials(draw_dot_rows(many, ROWS, heads=False), INK) == 55
    assert {str(n) for n in range(1, 13)} <= set(texts(svg))


def test_the_overview_draws_the_newest_revisions_that_fit() -> None:
    """What does not fit is told in the description."""
    many = [column(n, "11111", newest=n == 12) for n in range(1, 13)]
    svg = draw_small_dot_rows(many, ROWS, part_name="launcher")
    check_drawing(svg)
    assert "12" in texts(svg)
    assert "1" not in texts(svg)
    assert "Revision 1:" in desc(svg)
    assert read(svg).get("width") == "500"


def test_without_trials_the_drawing_says_so() -> None:
    """No revision, no rows, or no trials: an honest empty drawing."""
    empty = draw_dot_rows([], ROWS)
    assert "No trials yet" in texts(empty)
    assert desc(empty) == "No trials yet."
    for svg in (empty, draw_dot_rows([], []), draw_small_dot_rows([], []),
                draw_dot_rows([column(1, "00000")], ROWS, show_mean=True)):  # fmt: skip
        check_drawing(svg)


def test_a_mean_that_is_no_number_is_not_drawn() -> None:
    """NaN as a mean and a trial in an unknown row bend nothing; the latter is counted in words."""
    strange = DotColumn(revision=FamilyMark(label="<1>"), dots=(Dot(row="moon"),), mean=math.nan)
    svg = draw_dot_rows([strange], ROWS, show_mean=True)
    check_drawing(svg)
    assert describe_dots([strange], ROWS, show_mean=True) == "Revision <1>: 1 in no row."


def test_the_table_holds_what_is_drawn() -> None:
    """A line a revision, a cell a row."""
    table = dots_table(COLUMNS[:2], ROWS, show_mean=True)
    assert table.header == ("Revision", "Blaze 8", "Bark 4", "Trunk 2", "Leaves 1", "Wall 0",
                            "Misfires", "Mean")  # fmt: skip
    assert table.rows == (("1", "0", "1", "2", "2", "3", "2", "1.3"),
                          ("2", "1", "4", "5", "2", "0", "1", "3.0"))  # fmt: skip


def test_paper_draws_dots_in_silence(caplog: pytest.LogCaptureFixture) -> None:
    """Rows of dots, large and small, print without a log record."""
    check_paper([draw_dot_rows(COLUMNS, ROWS, show_mean=True), draw_small_dot_rows(COLUMNS, ROWS)],
                caplog.records)  # fmt: skip
