"""A swap test: pairs come in, an open dot and a full dot with a line between them go out.

One line a pair, in the order of the trials, students side by side: open is the old device (or a
student's own part), full the new one (or the lent part).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from journal.charts.drawing import (
    circle,
    draw,
    fit_text,
    label,
    segment,
    stroke,
    text_width_px,
)
from journal.charts.marks import hop
from journal.charts.palette import INK, INK_2, PAPER, RULE
from journal.charts.scales import fit_scale, known_values
from journal.charts.strip_marks import StripTick
from journal.charts.tables import ChartTable, cell

DOT_PX = 5.5
#: Between the two dots of a pair, and from one pair to the next.
STEP_PX = 12.0
LEAST_PAIR_PX = 18.0
MOST_PAIR_PX = 52.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PairMark:
    """Two trials of one student; None for a misfire."""

    student: str
    old: float | None
    new: float | None
    #: Whether the old one came first; it then stands at the left.
    old_first: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """A line across the drawing, with its words."""

    y: float
    text: str


def draw_swap(
    pairs: Sequence[PairMark],
    *,
    names: tuple[str, str],
    ticks: Sequence[StripTick] = (),
    unit: str = "",
    width_px: float = 620,
    height_px: float = 190,
    text_px: float = 18,
    ground: str = PAPER,
    ids: str = "swap",
    title: str = "Swap test",
) -> str:
    """Draw the pairs of a swap test.

    `names` are what an open and a full dot stand for. `ticks` are the points of a panel, drawn as
    evenly spaced rows; without them the scale has round ticks of its own.
    """
    top_px, bottom_px = text_px * 2.2, height_px - text_px * 2.6
    values = [value for pair in pairs for value in known_values([pair.old, pair.new])]
    place, rows = _rows(values, ticks, (bottom_px, top_px))
    left_px = max((text_width_px(row.text, text_px * 0.9) for row in rows), default=0) + 14
    parts = _key(names, text_px, ground, width_px)
    for row in rows:
        parts += [
            label(0, row.y + text_px * 0.3, row.text, size_px=text_px * 0.9, colour=INK_2),
            stroke(segment(left_px, row.y, width_px, row.y), RULE, 1),
        ]
    if not pairs:
        words = label(left_px, (top_px + bottom_px) / 2, "No pairs yet", size_px=text_px,
                      colour=INK_2)  # fmt: skip
        parts.append(words)
    students = list(dict.fromkeys(pair.student for pair in pairs))
    room_px = (width_px - left_px) / max(1, len(students))
    most = max((sum(pair.student == student for pair in pairs) for student in students), default=1)
    wide_px = max(LEAST_PAIR_PX, min(MOST_PAIR_PX, (room_px - 12) / most))
    base_px = bottom_px + DOT_PX * 2.2
    for index, student in enumerate(students):
        start_px = left_px + index * room_px
        if index:
            parts.append(
                stroke(segment(start_px, top_px - 6, start_px, base_px), INK_2, 1,
                       stroke_dasharray="3 4")
            )  # fmt: skip
        own = [pair for pair in pairs if pair.student == student]
        first_px = start_px + (room_px - wide_px * len(own)) / 2
        for at, pair in enumerate(own):
            middle_px = first_px + wide_px * (at + 0.5)
            parts += _pair(pair, middle_px, place, base_px, min(STEP_PX, wide_px / 2), ground)
        parts.append(
            label(start_px + room_px / 2, base_px + text_px * 1.3,
                  fit_text(student, text_px, room_px - 8), size_px=text_px, anchor="middle")
        )  # fmt: skip
    return draw(
        *parts,
        width_px=width_px,
        height_px=height_px,
        title=title,
        desc=_describe(pairs, names, unit),
        ids=ids,
    )


def swap_table(
    pairs: Sequence[PairMark], *, names: tuple[str, str], unit: str = "", caption: str = "Pairs"
) -> ChartTable:
    """Return each pair with both values; a dash for a misfire."""
    unit_words = f", {unit}" if unit else ""
    return ChartTable(
        caption=caption,
        header=("Who", f"{names[0]}{unit_words}", f"{names[1]}{unit_words}"),
        rows=tuple((pair.student, cell(pair.old), cell(pair.new)) for pair in pairs),
    )


class _Place:
    """Where a value lies: on a scale, or between evenly spaced rows."""

    def __init__(self, stops: Sequence[tuple[float, float]]) -> None:
        """Take pairs of value and px, values rising."""
        self.stops = stops

    def to_px(self, value: float) -> float:
        """Return the place of a value; beyond the ends it goes on straight."""
        inner = range(1, len(self.stops) - 1)
        at = next((stop for stop in inner if value <= self.stops[stop][0]), len(self.stops) - 1)
        (low, low_px), (high, high_px) = self.stops[at - 1], self.stops[at]
        return low_px + (value - low) / (high - low) * (high_px - low_px)


def _rows(
    values: Sequence[float], ticks: Sequence[StripTick], ends: tuple[float, float]
) -> tuple[_Place, list[_Row]]:
    named: dict[float, str] = {}
    for tick in ticks:
        named.setdefault(tick.value, tick.name)
    levels = sorted(named)
    if len(levels) > 1 and all(levels[0] <= value <= levels[-1] for value in values):
        step = (ends[1] - ends[0]) / (len(levels) - 1)
        places = [(level, ends[0] + step * at) for at, level in enumerate(levels)]
        rows = [_Row(y=y, text=f"{named[level]} {cell(level)}".strip()) for level, y in places]
        return _Place(places), rows
    scale = fit_scale(values, *ends, most_ticks=5)
    marks = [(tick, scale.to_px(tick)) for tick in scale.ticks]
    return _Place(marks), [_Row(y=y, text=scale.tick_text(tick)) for tick, y in marks]


def _pair(
    pair: PairMark, middle_px: float, place: _Place, base_px: float, step_px: float, ground: str
) -> list[str]:
    half = step_px / 2 if pair.old_first else -step_px / 2
    old_x, new_x = middle_px - half, middle_px + half
    olds, news = known_values([pair.old]), known_values([pair.new])
    parts = []
    if olds and news:
        line = segment(old_x, place.to_px(olds[0]), new_x, place.to_px(news[0]))
        parts.append(stroke(line, INK, 2))
    for x, found, fill in ((old_x, olds, ground), (new_x, news, INK)):
        if found:
            y = place.to_px(found[0])
            parts.append(circle(x, y, DOT_PX, fill=fill, stroke=INK, stroke_width=1.75))
        else:
            parts.append(hop(x, base_px, DOT_PX))
    return parts


def _key(names: tuple[str, str], text_px: float, ground: str, width_px: float) -> list[str]:
    size = text_px * 0.9
    whole = sum(text_width_px(name, size) for name in names) + DOT_PX * 8 + 24
    size *= min(1.0, width_px / whole)
    y, x, parts = text_px * 0.75, DOT_PX + 1, []
    for name, fill in zip(names, (ground, INK), strict=True):
        parts += [
            circle(x, y, DOT_PX, fill=fill, stroke=INK, stroke_width=1.75),
            label(x + DOT_PX + 6, y + size * 0.34, name, size_px=size),
        ]
        x += text_width_px(name, size) + DOT_PX * 2 + 30
    return parts


def _describe(pairs: Sequence[PairMark], names: tuple[str, str], unit: str) -> str:
    if not pairs:
        return "No pairs yet."
    sentences = [
        f"{pair.student}: {_value(pair.old, unit)} with {names[0]}, "
        f"{_value(pair.new, unit)} with {names[1]}."
        for pair in pairs
    ]
    return " ".join(sentences)


def _value(value: float | None, unit: str) -> str:
    known = known_values([value])
    return f"{cell(known[0])} {unit}".strip() if known else "a misfire"
