"""Reading the panel of a challenge."""

from __future__ import annotations

from typing import Any

import pytest

from tests.domain.challenge_samples import problems_of, ring_throw


def test_an_aim_point_off_the_panel_is_refused() -> None:
    """Everything is measured from the aim point, so it lies on the panel."""
    document = ring_throw()
    document["panel"]["aim_x_mm"] = 401
    assert "panel.aim_x_mm" in problems_of(document)


@pytest.mark.parametrize(
    "zone",
    [
        {"shape": "circle", "radius_mm": 151},
        {"shape": "circle", "radius_mm": 100, "centre_x_mm": 101},
        {"shape": "rectangle", "width_mm": 401, "height_mm": 20},
        {"shape": "polygon", "corners_mm": [[0, 0], [201, 0], [0, 100]]},
    ],
)
def test_a_zone_over_the_edge_is_refused(zone: dict[str, Any]) -> None:
    """Every zone lies on the panel, whatever its shape."""
    document = ring_throw()
    document["panel"]["zones"] = [{"key": "z", "name": "Z", "points": 1, **zone}]
    assert ["panel.zones.z"] == list(problems_of(document))


@pytest.mark.parametrize(
    ("zone", "field"),
    [
        ({"shape": "circle"}, "radius_mm"),
        ({"shape": "circle", "radius_mm": 0}, "radius_mm"),
        ({"shape": "circle", "radius_mm": 10, "width_mm": 10}, "width_mm"),
        ({"shape": "rectangle", "width_mm": 10}, "height_mm"),
        ({"shape": "polygon"}, "corners_mm"),
        ({"shape": "polygon", "corners_mm": [[0, 0], [1, 1]]}, "corners_mm"),
        ({"shape": "polygon", "corners_mm": [[0, 0], [0, 0], [1, 1]]}, "corners_mm"),
        ({"shape": "polygon", "corners_mm": [[0, 0], [1, float("nan")], [1, 1]]}, "corners_mm"),
    ],
)
def test_a_zone_has_the_sizes_of_its_shape(zone: dict[str, Any], field: str) -> None:
    """A size that the shape needs is asked for, one of another shape refused."""
    document = ring_throw()
    document["panel"]["zones"] = [{"key": "z", "name": "Z", "points": 1, **zone}]
    assert [f"panel.zones.z.{field}"] == list(problems_of(document))


def test_zones_need_a_panel_and_a_measure_has_none() -> None:
    """The panel goes with points by zone, and with nothing else."""
    without = ring_throw()
    del without["panel"]
    measured = ring_throw()
    measured["outcome"]["kind"] = "measure"
    assert ["panel"] == list(problems_of(without))
    assert ["panel"] == list(problems_of(measured))
