"""The path through the six stages."""

from __future__ import annotations

import pytest

from journal.charts.palette import INK, MADDER
from journal.charts.paths import PathStep, draw_path, draw_small_path, path_table
from journal.domain.stages import Stage
from tests.charts.drawings import check_drawing, check_paper, count, desc, read, texts

WALK = [
    "ask", "imagine", "plan", "build", "test", "improve",
    "build", "test", "imagine", "plan", "build", "test",
]  # fmt: skip
STEPS = tuple(
    PathStep(stage=Stage(stage), session="Session 1" if index < 5 else "Session 2",
             note=str(WALK[: index + 1].count("build")) if stage == "build" else "")
    for index, stage in enumerate(WALK)
)  # fmt: skip


def middles(svg: str) -> list[tuple[float, float]]:
    """Return the middles of the steps, without the sign's discs."""
    return [(float(dot.get("cx", "")), float(dot.get("cy", "")))
            for dot in read(svg).findall("{*}circle")]  # fmt: skip


def test_a_step_is_a_dot_and_the_last_one_is_now() -> None:
    """Twelve steps; where the group is now lies once more on top, larger and in madder."""
    svg = draw_path(STEPS)
    check_drawing(svg)
    dots = read(svg).findall("{*}circle")
    assert len(dots) == 13
    assert [INK] * 12 + [MADDER] == [dot.get("fill") for dot in dots]
    assert float(dots[-1].get("r", "")) > float(dots[0].get("r", ""))


def test_steps_walk_to_the_right_in_the_rows_of_their_stages() -> None:
    """Time goes right, one row a stage, the same stage at the same height."""
    points = middles(draw_path(STEPS))[:-1]
    assert points == sorted(points)
    heights = {step.stage: y for step, (_, y) in zip(STEPS, points, strict=True)}
    assert list(Stage) == sorted(heights, key=heights.__getitem__)
    for step, (_, y) in zip(STEPS, points, strict=True):
        assert heights[step.stage] == y


def test_going_back_is_the_same_line() -> None:
    """One path of one colour and weight holds all steps, whatever the direction."""
    lines = [found for found in read(draw_path(STEPS)).findall("{*}path")
             if found.get("d", "").count("C") == 11]  # fmt: skip
    assert [("#1C2632", "3")] == [(line.get("stroke"), line.get("stroke-width")) for line in lines]


def test_a_dotted_line_stands_where_a_session_begins() -> None:
    """Two sessions: two names, one line between."""
    svg = draw_path(STEPS)
    assert {"Session 1", "Session 2"} <= set(texts(svg))
    assert count(svg, "path", stroke_dasharray="1.5 4.5") == 1


def test_what_is_not_yet_is_dashed() -> None:
    """The next stage is a dashed dot on a dashed line."""
    svg = draw_path(STEPS, next_stage=Stage.IMPROVE)
    assert count(svg, "circle", stroke_dasharray="3 3") == 1
    assert count(svg, "path", stroke_dasharray="5 5") == 1
    check_drawing(svg)


@pytest.mark.parametrize("repeats", [0, 1, 20])
def test_any_number_of_steps_fits(repeats: int) -> None:
    """None, twelve or 240 steps stay inside the drawing."""
    for svg in (draw_path(STEPS * repeats), draw_small_path(STEPS * repeats)):
        check_drawing(svg)
        width = float(read(svg).get("width", ""))
        assert all(0 < x < width for x, _ in middles(svg))


def test_one_step_is_a_dot_without_a_line() -> None:
    """A group that only asked so far has one dot."""
    svg = draw_path(STEPS[:1], next_stage=Stage.IMAGINE)
    check_drawing(svg)
    assert desc(svg) == "Ask. Now at Ask."


def test_before_the_first_step_the_drawing_says_so() -> None:
    """An empty path is six rows and a word."""
    svg = draw_path([])
    assert "Not begun yet" in texts(svg)
    assert desc(svg) == "No stage yet."
    assert desc(draw_small_path([])) == "No stage yet."


def test_names_are_escaped_and_can_be_replaced() -> None:
    """Names of stages come from the reader's language."""
    svg = draw_path(STEPS, names={Stage.ASK: "<b>Preguntar"}, title="<script>")
    assert "<b>Preguntar" in texts(svg)
    check_drawing(svg)


def test_the_table_holds_the_steps() -> None:
    """A row a step."""
    table = path_table(STEPS)
    assert table.rows[3] == ("4", "Build", "Session 1", "1")
    assert len(table.rows) == 12


def test_paper_draws_paths_in_silence(caplog: pytest.LogCaptureFixture) -> None:
    """Paths print without a log record."""
    check_paper([draw_path(STEPS, next_stage=Stage.IMPROVE), draw_small_path(STEPS)],
                caplog.records)  # fmt: skip
