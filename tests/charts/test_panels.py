"""The panel with its hits."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.charts.hits import Hit, middle_mm
from journal.charts.palette import INK, MADDER
from journal.charts.panel_frames import panel_frame
from journal.charts.panels import describe_hits, draw_panel, panel_table
from journal.domain.panels import Panel, Zone, ZoneShape
from tests.charts.drawings import check_drawing, check_paper, count, desc, read, texts


def make_panel(*zones: Zone, width_mm: float = 720, height_mm: float = 720) -> Panel:
    """Make a panel with the aim point 300 mm right of and 200 mm above its corner."""
    return Panel(
        key="panel", width_mm=width_mm, height_mm=height_mm, aim_x_mm=300, aim_y_mm=200,
        zones=zones, bare_name="Leaves", bare_points=1, wall_points=0, nowhere_points=0,
        wall_margin_mm=120, mark_radius_mm=8, line_touch=True,
    )  # fmt: skip


RECTANGLE = Zone(key="a", name="Blaze", points=8, shape=ZoneShape.RECTANGLE, width_mm=128,
                 height_mm=192, corner_mm=10)  # fmt: skip
CIRCLE = Zone(key="b", name="Bark", points=4, shape=ZoneShape.CIRCLE, radius_mm=150)
POLYGON = Zone(key="c", name="Trunk", points=2, shape=ZoneShape.POLYGON,
               corners_mm=((-200, -200), (220, -200), (180, 400), (-170, 400)))  # fmt: skip
PANEL = make_panel(RECTANGLE, CIRCLE, POLYGON)
SIZE = {"width_px": 632.0, "height_px": 480.0}
sizes = st.floats(min_value=60, max_value=2000)
places = st.floats(min_value=-5000, max_value=5000)


def hit(x_mm: float | None = 0.0, y_mm: float | None = 0.0, **fields: object) -> Hit:
    """Make a hit."""
    return Hit(x_mm=x_mm, y_mm=y_mm, **fields)  # type: ignore[arg-type]


@given(sizes, sizes, places, places, st.booleans())
def test_px_and_mm_convert_both_ways(
    width_px: float,
    height_px: float,
    x_mm: float,
    y_mm: float,
    wall: bool,  # noqa: FBT001
) -> None:
    """A place that is drawn and tapped again is the same place."""
    frame = panel_frame(PANEL, width_px, height_px, wall=wall)
    back = frame.to_mm(*frame.to_px(x_mm, y_mm))
    assert back == pytest.approx((x_mm, y_mm), abs=1e-6)


def test_the_frame_is_exact() -> None:
    """960 mm of panel and wall in 480 px less two edges of 9 px; y grows upwards in mm."""
    frame = panel_frame(PANEL, 632, 480)
    scale = 462 / 960
    assert frame.scale_px_per_mm == pytest.approx(scale)
    assert (frame.left_px, frame.top_px) == pytest.approx((316 - 360 * scale, 240 - 360 * scale))
    assert frame.to_px(0, 0) == pytest.approx((frame.aim_x_px, frame.aim_y_px))
    corner = frame.to_px(PANEL.left_mm, PANEL.top_mm)
    assert corner == pytest.approx((frame.left_px, frame.top_px))
    assert frame.to_px(0, 100)[1] < frame.to_px(0, 0)[1]


def test_a_hit_is_drawn_at_its_place() -> None:
    """The mark's middle is the place in mm, converted by the frame."""
    svg = draw_panel(make_panel(), [hit(123, -45)], labels=False, **SIZE)
    x, y = panel_frame(make_panel(), 632, 480).to_px(123, -45)
    found = read(svg).find(".//{*}g[@id='panel-hits']/{*}circle")
    assert found is not None
    drawn = float(found.get("cx", "")), float(found.get("cy", ""))
    assert drawn == pytest.approx((x, y), abs=0.006)


def test_one_mark_a_hit() -> None:
    """Hits with a place on panel or wall are drawn, the others counted in the description."""
    hits = [hit(-20 * n, 5 * n) for n in range(12)] + [hit(470, 0), hit(None, None), hit(9999, 0)]
    svg = draw_panel(PANEL, hits, labels=False, **SIZE)
    group = read(svg).find(".//{*}g[@id='panel-hits']")
    assert group is not None
    assert len(group) == 13
    assert "15 trials" in desc(svg)
    assert "2 trials not drawn" in desc(svg)


def test_strokes_tell_whose_a_hit_is() -> None:
    """A stem stands on each hit with a child, none on those behind; words say it as well."""
    hits = [
        hit(0, 0, strokes=2, who="Bo"),
        hit(90, 0, strokes=1, who="Pim"),
        hit(40, 0, strokes=2, who="Bo"),
        hit(60, 0, strokes=3, who="Ash", behind=True),
        hit(70, 0),
    ]
    svg = draw_panel(PANEL, hits, labels=False, **SIZE)
    group = read(svg).find(".//{*}g[@id='panel-hits']")
    assert group is not None
    # Ground, upright and strokes of each; a line for each stroke.
    drawn = [path.get("d", "") for path in group.findall("{*}path")][2::3]
    assert [1, 2, 2] == sorted(data.count("M") for data in drawn)
    assert 5 == len(group.findall("{*}circle"))
    assert desc(svg).endswith("By strokes: 1 Pim, 2 Bo, 3 Ash.")
    assert ["Bo", "Pim", "Bo", "Ash", "–"] == [row[1] for row in panel_table(PANEL, hits).rows]


def test_the_newest_hit_is_larger_labelled_and_last() -> None:
    """Now is shown by size, words and order besides madder, so that one ink shows it too."""
    hits = [hit(10, 10, newest=True, label="Pim, 8 points"), hit(40, 0), hit(0, 40)]
    svg = draw_panel(PANEL, hits, labels=False, **SIZE)
    group = read(svg).find(".//{*}g[@id='panel-hits']")
    assert group is not None
    circles = group.findall("{*}circle")
    assert circles[-1].get("fill") == MADDER
    assert float(circles[-1].get("r", "")) > float(circles[0].get("r", ""))
    assert circles[0].get("fill") == INK
    assert "Pim, 8 points" in texts(svg)


def test_words_of_the_newest_hit_stay_inside() -> None:
    """At the right edge the words stand left of the hit."""
    svg = draw_panel(PANEL, [hit(400, 0, newest=True, label="Pim, 1 point")], labels=False, **SIZE)
    found = list(read(svg).iter("{http://www.w3.org/2000/svg}text"))
    assert [text.get("text-anchor") for text in found] == ["end"]


def test_call_outs_name_each_zone_with_its_points() -> None:
    """Every zone and the bare panel is named once, with its points; the wall on both sides."""
    written = texts(draw_panel(PANEL, [], **SIZE))
    assert ["Leaves 1", "Trunk 2", "Bark 4", "Blaze 8"] == [
        text for text in written if text.split()[0] not in {"Wall", "0"}
    ]
    assert written.count("Wall") == 2


def test_call_outs_end_in_their_zones() -> None:
    """The dot at the end of a line lies in the zone that the words name."""
    svg = draw_panel(PANEL, [], **SIZE)
    frame = panel_frame(PANEL, 632, 480)
    ends = [
        frame.to_mm(float(dot.get("cx", "")), float(dot.get("cy", "")))
        for dot in read(svg).iter("{http://www.w3.org/2000/svg}circle")
        if dot.get("r") == "2.5"
    ]
    zones = [next((z.name for z in PANEL.zones if z.distance_mm(*end) <= 0), "") for end in ends]
    assert [name for name in zones if name] == ["Trunk", "Bark", "Blaze"]


@pytest.mark.parametrize(("width_mm", "height_mm", "across", "down"), [
    (720, 720, 2, 3), (240, 180, 0, 0), (100, 100, 0, 0), (960, 540, 3, 2),
])  # fmt: skip
def test_ticks_stand_where_sheets_join(
    width_mm: float, height_mm: float, across: int, down: int
) -> None:
    """Sheets go in steps of 240 x 180 mm; a tick at both ends of each join, none on an edge."""
    svg = draw_panel(make_panel(width_mm=width_mm, height_mm=height_mm), [], labels=False, **SIZE)
    lines = [found.get("d", "") for found in read(svg).iter("{http://www.w3.org/2000/svg}path")]
    ticks = "".join(lines)
    assert (2 * across, 2 * down) == (ticks.count("v"), ticks.count("h"))


def test_the_middle_is_the_mean_of_the_hits_in_front() -> None:
    """Pale hits and hits without a place do not pull the middle."""
    hits = [hit(10, -40), hit(30, 20), hit(500, 500, behind=True), hit(None, None)]
    assert middle_mm(hits) == (20, -10)
    assert middle_mm([hit(None, None)]) is None
    plain = draw_panel(PANEL, hits, labels=False, **SIZE)
    assert count(draw_panel(PANEL, hits, labels=False, middle=True, **SIZE), "path") > count(
        plain, "path"
    )


def test_every_kind_of_hit_keeps_the_promises_of_drawings() -> None:
    """Numbers, marks, pale, newest, names of markup, no hits and no wall all draw well."""
    hits = [
        hit(5 * n, 5 * n, strokes=n % 6, behind=n % 4 == 0, number=str(n) if n > 5 else None)
        for n in range(9)
    ]
    hits += [hit(0, 0, label="<script>&", newest=True, number="12"), hit(math.nan, 0),
             hit(math.inf, 1)]  # fmt: skip
    for svg in (
        draw_panel(PANEL, hits, title="<script>", ids="a", **SIZE),
        draw_panel(PANEL, hits, labels=False, wall=False, middle=True, width_px=60, height_px=60),
        draw_panel(make_panel(), [], **SIZE),
        draw_panel(make_panel(CIRCLE), [], width_px=40, height_px=900),
    ):
        check_drawing(svg)


def test_an_empty_panel_says_so() -> None:
    """Without hits the description tells that there are none yet."""
    assert desc(draw_panel(PANEL, [], **SIZE)) == "No hits yet."
    assert describe_hits(PANEL, [hit(0, 0)]) == "1 trial: Blaze 1."


def test_the_table_holds_what_is_drawn() -> None:
    """A row a trial, with zone, points and place; dashes where nobody knows."""
    table = panel_table(PANEL, [hit(0, 0, label="Pim"), hit(None, None), hit(500, 0)])
    assert table.rows == (
        ("1", "Pim", "Blaze", "8", "0", "0"),
        ("2", "–", "–", "–", "–", "–"),
        ("3", "–", "Wall", "0", "500", "0"),
    )


def test_paper_draws_panels_in_silence(caplog: pytest.LogCaptureFixture) -> None:
    """Panels of all three shapes print without a log record."""
    hits = [hit(20 * n, 10 * n, strokes=n, label="Pim") for n in range(6)]
    check_paper([draw_panel(PANEL, [*hits, hit(1, 1, newest=True, label="Bo")], middle=True,
                            **SIZE)], caplog.records)  # fmt: skip
