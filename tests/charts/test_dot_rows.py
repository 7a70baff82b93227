"""The rows that dots stand in."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from journal.charts.dot_rows import NOWHERE_ROW, WALL_ROW, measure_rows, zone_rows
from journal.charts.dots import Dot, DotColumn, draw_dot_rows
from journal.charts.families import FamilyMark
from tests.charts.drawings import check_drawing
from tests.charts.test_panels import PANEL


def test_zones_stand_in_rows_from_the_most_points_down() -> None:
    """Zones, bare panel, wall and nowhere, with their points."""
    rows = zone_rows(PANEL)
    assert [(row.name, row.figure) for row in rows] == [
        ("Blaze", "8"), ("Bark", "4"), ("Trunk", "2"), ("Leaves", "1"), ("Wall", "0"),
        ("Flew past", "0"),
    ]  # fmt: skip
    assert [row.key for row in rows][-2:] == [WALL_ROW, NOWHERE_ROW]


def test_a_row_can_be_left_out() -> None:
    """Where no trial ended nowhere, there is no row for it."""
    assert NOWHERE_ROW not in {row.key for row in zone_rows(PANEL, nowhere_name="")}


@given(st.lists(st.floats(min_value=-1e6, max_value=1e6), min_size=1, max_size=40))
def test_every_measure_finds_a_row(values: list[float]) -> None:
    """No measured trial is lost between the steps, nor at the ends."""
    steps = measure_rows(values)
    keys = {row.key for row in steps.rows}
    assert 1 <= len(keys) <= 7
    assert all(steps.find_key(value) in keys for value in values)


def test_the_best_step_is_on_top() -> None:
    """More on top where more is better, less on top where less is better."""
    values = [112.0, 287.0, 400.0]
    assert measure_rows(values).rows[0].figure == "300 to 400"
    assert measure_rows(values, less_is_better=True).rows[0].figure == "100 to 200"


def test_a_value_on_an_edge_goes_up_and_one_outside_nowhere() -> None:
    """200 belongs to 200 to 300; the highest edge to the highest step."""
    steps = measure_rows([112.0, 287.0, 400.0])
    figures = {row.key: row.figure for row in steps.rows}
    found = [steps.find_key(value) for value in (200.0, 400.0, 99.0, math.nan)]
    assert [key and figures[key] for key in found] == ["200 to 300", "300 to 400", None, None]


def test_measures_draw_in_rows() -> None:
    """Rows of a measure take the same drawing; without values there is an honest empty one."""
    values = [112.0, 287.0, 400.0, 401.0]
    steps = measure_rows(values)
    dots = tuple(Dot(row=steps.find_key(value) or "") for value in values)
    column = DotColumn(revision=FamilyMark(label="1"), dots=dots, mean=300.0)
    check_drawing(draw_dot_rows([column], steps.rows, show_mean=True))
    assert measure_rows([None, math.nan]).find_key(1.0) is None
    check_drawing(draw_dot_rows([], measure_rows([]).rows))
