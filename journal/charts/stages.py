"""The drawn sign of each stage, on a grid of 24; it always stands beside its word."""

from __future__ import annotations

from journal.charts.drawing import circle, element
from journal.domain.stages import Stage

STAGE_NAMES: dict[Stage, str] = {
    Stage.ASK: "Ask",
    Stage.IMAGINE: "Imagine",
    Stage.PLAN: "Plan",
    Stage.BUILD: "Build",
    Stage.TEST: "Test",
    Stage.IMPROVE: "Improve",
}


def stage_sign(stage: Stage, x: float, y: float, size_px: float, colour: str) -> str:
    """Write a stage's sign with its left top corner at x, y."""
    lines, area = _SIGNS[stage]
    scale = size_px / 24
    drawn = [
        element("path", d=data, stroke_width=width, stroke_dasharray=dashes)
        for data, width, dashes in lines
    ]
    filled = (
        circle(*area, fill=colour, stroke="none")
        if isinstance(area, tuple)
        else element("path", d=area, fill=colour, stroke="none")
    )
    return element(
        "g",
        *drawn,
        filled,
        transform=f"translate({x:.2f},{y:.2f}) scale({scale:.4f})",
        fill="none",
        stroke=colour,
        stroke_width=1.75,
        stroke_linejoin="miter",
    )


_Line = tuple[str, float | None, str | None]

_SIGNS: dict[Stage, tuple[tuple[_Line, ...], str | tuple[float, float, float]]] = {
    Stage.ASK: (
        (("M7.4 9.8a4.6 4.6 0 1 1 6.5 4.1c-1.3.6-1.9 1.3-1.9 3.1", None, None),),
        "M10.5 18.4h3v3h-3z",
    ),
    Stage.IMAGINE: (
        (
            ("M2.5 18.5h19", None, None),
            ("M12 4.5v5M4.3 8.3l3.3 3.3M19.7 8.3l-3.3 3.3", None, None),
        ),
        "M6.8 18.5a5.2 5.2 0 0 1 10.4 0z",
    ),
    Stage.PLAN: (
        (("M4.5 3.5v16h16z", None, None), ("M4.5 8h2.5M4.5 11.5h2.5", None, None)),
        "M8 13v3.2h3.2z",
    ),
    Stage.BUILD: (
        (("M5 4.5h10.5v6.5H5z", None, None), ("M10.3 11v10.5", 2.6, None)),
        "M15.5 3.6h4v8.3h-4z",
    ),
    Stage.TEST: (
        (("M8.5 3h12v18h-12z", None, None), ("M1.5 15.5l9.5-4", None, None)),
        "M11.8 8.2h5.4v6.4h-5.4z",
    ),
    Stage.IMPROVE: (
        (
            ("M2.8 12a9.2 9.2 0 1 0 18.4 0a9.2 9.2 0 1 0 -18.4 0z", None, None),
            ("M3.7 14.3a6 6 0 1 0 12 0a6 6 0 1 0 -12 0z", 1.2, "2.4 2"),
        ),
        (7.6, 16.4, 3.0),
    ),
}
