"""Hits on a panel: places in mm come in, marks with their labels go out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from journal.charts.drawing import circle, label, plate, segment, stroke, text_width_px
from journal.charts.marks import plus, stem, stem_width_px
from journal.charts.palette import INK, INK_2, MADDER, PAPER, SHEET
from journal.charts.panel_frames import PanelFrame

#: Lower stems cannot be counted on paper.
_LEAST_STEM_PX = 11.0
#: How much larger the newest hit is.
_NEWEST = 1.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """Where one trial ended; without x and y it was on no panel, or nobody saw where."""

    x_mm: float | None
    y_mm: float | None
    #: Stands beside the newest hit, such as "Pim, 4 points".
    label: str = ""
    #: The strokes of the child's stem, which stands beside the hit; 0 for none.
    strokes: int = 0
    #: The child, for the description and the table.
    who: str = ""
    newest: bool = False
    #: An older hit, drawn pale behind the others.
    behind: bool = False
    #: Stands in the dot, such as the revision's number.
    number: str | None = None

    @property
    def place_mm(self) -> tuple[float, float] | None:
        """Return x and y where both are known."""
        if self.x_mm is None or self.y_mm is None:
            return None
        if not (math.isfinite(self.x_mm) and math.isfinite(self.y_mm)):
            return None
        return self.x_mm, self.y_mm


def middle_mm(hits: Sequence[Hit]) -> tuple[float, float] | None:
    """Return the middle of the hits that are not behind: the mean of their places."""
    places = [hit.place_mm for hit in hits if not hit.behind]
    known = [place for place in places if place is not None]
    if not known:
        return None
    return (
        math.fsum(x for x, _ in known) / len(known),
        math.fsum(y for _, y in known) / len(known),
    )


def write_stem(hit: Hit, frame: PanelFrame, radius: float, size_px: float) -> list[str]:
    """Write the stem of a hit's child beside its dot; nothing for a hit behind the others."""
    place = hit.place_mm
    if place is None or not hit.strokes or hit.behind:
        return []
    x, y = frame.to_px(*place)
    drawn = radius * _NEWEST if hit.newest else radius
    height_px = max(_LEAST_STEM_PX, drawn * 2.2)
    left = x + drawn * 1.5
    if hit.newest and hit.label and _label_way(hit.label, x, frame, drawn, size_px) > 0:
        left = x - drawn * 1.5 - stem_width_px(height_px)
    colour = MADDER if hit.newest else INK
    return stem(hit.strokes, left, y - height_px / 2, height_px, colour, halo=SHEET)


def write_hit(hit: Hit, frame: PanelFrame, radius: float, size_px: float) -> list[str]:
    """Write one hit with a place; the newest is larger, in madder, with its label."""
    place = hit.place_mm
    if place is None:
        return []
    x, y = frame.to_px(*place)
    if hit.newest:
        return _newest(hit, (x, y), frame, radius * _NEWEST, size_px)
    if hit.number is not None:
        return _numbered(hit, (x, y), radius)
    if hit.behind:
        line_px = max(0.8, radius / 6)
        return [
            circle(x, y, radius, fill=INK, fill_opacity=0.1, stroke=INK_2, stroke_width=line_px)
        ]
    return [circle(x, y, radius, fill=INK, stroke=SHEET, stroke_width=max(0.8, radius / 5))]


def write_middle(middle: tuple[float, float], frame: PanelFrame, radius: float) -> list[str]:
    """Write the middle of hits: a plus, with a line to it from the aim point."""
    x, y = frame.to_px(*middle)
    aim_x, aim_y = frame.aim_x_px, frame.aim_y_px
    width = max(1.5, radius / 3.5)
    return [
        plus(x, y, radius * 2 + width, SHEET, width * 2.6),
        stroke(segment(aim_x, aim_y, x, y), MADDER, width * 0.8),
        circle(aim_x, aim_y, radius * 0.6, fill=MADDER),
        plus(x, y, radius * 2, MADDER, width),
    ]


def _numbered(hit: Hit, place: tuple[float, float], radius: float) -> list[str]:
    x, y = place
    fill, words_colour = (PAPER, INK) if hit.behind else (INK, PAPER)
    size_px = radius * (1.45 if len(hit.number or "") == 1 else 1.1)
    return [
        circle(x, y, radius, fill=fill, stroke=INK if hit.behind else SHEET,
               stroke_width=max(0.9, radius / 7)),
        label(x, y + size_px * 0.35, hit.number or "", size_px=size_px, colour=words_colour,
              bold=True, anchor="middle"),
    ]  # fmt: skip


def _label_way(text: str, x: float, frame: PanelFrame, radius: float, size_px: float) -> int:
    """Return 1 to put words to the right, where they fit, else -1."""
    room_px = text_width_px(text, size_px, bold=True) + radius * 1.7 + 6
    fits = x + room_px <= frame.wall_left_px + frame.wall_width_px
    return 1 if fits or x - room_px < frame.wall_left_px else -1


def _newest(
    hit: Hit, place: tuple[float, float], frame: PanelFrame, radius: float, size_px: float
) -> list[str]:
    x, y = place
    parts: list[str] = []
    if hit.label:
        lead = radius * 1.7
        way = _label_way(hit.label, x, frame, radius, size_px)
        anchor = "start" if way > 0 else "end"
        text_x = x + way * (lead + 5)
        parts = [
            plate(text_x, y + size_px * 0.35, hit.label, size_px=size_px, bold=True,
                  anchor=anchor, ground=SHEET),
            stroke(segment(x, y, x + way * lead, y), SHEET, 7),
            stroke(segment(x, y, x + way * lead, y), MADDER, 2.5),
            label(text_x, y + size_px * 0.35, hit.label, size_px=size_px, colour=MADDER,
                  bold=True, anchor=anchor),
        ]  # fmt: skip
    parts.append(circle(x, y, radius, fill=MADDER, stroke=SHEET, stroke_width=max(1.5, radius / 4)))
    if hit.number is not None:
        parts.append(
            label(x, y + radius * 0.42, hit.number, size_px=radius * 1.2, colour=PAPER, bold=True,
                  anchor="middle")
        )  # fmt: skip
    return parts
