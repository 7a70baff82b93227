"""The marks of a strip: one revision's values and a scale come in, dots over a line go out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from journal.charts.drawing import circle, fit_text, label, segment, stroke, text_width_px
from journal.charts.marks import hop
from journal.charts.palette import INK, INK_2, MADDER
from journal.charts.scales import Scale, known_values, least_gap, stack_px
from journal.charts.tables import mean_text

_HIGHEST_STACK = 5
_MOST_ACROSS = 4
#: Distance of neighbouring dots in radii.
_PITCH = 2.12


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """The trials of one revision."""

    name: str
    values: tuple[float, ...]
    #: Stands small below the name, such as "12 hits".
    note: str = ""
    misfires: int = 0
    newest: bool = False
    #: The mean as the analysis has it; worked out from the values where it is None.
    mean: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StripTick:
    """A value of the scale that has a name, such as a zone and its points."""

    value: float
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stacking:
    """How the dots of all strips stand on each other, the same for all so that heights compare."""

    radius_px: float
    #: Dots side by side in a stack.
    across: int
    #: From one row of dots to the next.
    rise_px: float


def strip_mean(strip: Strip) -> float | None:
    """Return the mean of a strip's values, None where there are none."""
    values = known_values([strip.mean] if strip.mean is not None else strip.values)
    return math.fsum(values) / len(values) if values else None


def fit_stacking(strips: Sequence[Strip], scale: Scale, radius_px: float) -> Stacking:
    """Choose wide stacks where no neighbour is in the way, and press them where they grow high."""
    pitch = radius_px * _PITCH
    most, gap = 1, float(_MOST_ACROSS) * pitch
    for strip in strips:
        stacks = _stacks(strip, scale, radius_px)
        most = max([most, *(count for _, count in stacks)])
        gap = min(gap, least_gap([x for x, _ in stacks]))
    beside = max(1, min(_MOST_ACROSS, int(gap / pitch + 1e-9)))
    across = min(beside, math.ceil(most / _HIGHEST_STACK))
    rows = math.ceil(most / across)
    rise = pitch * min(1.0, 3 * _HIGHEST_STACK / rows)
    return Stacking(radius_px=radius_px, across=across, rise_px=rise)


def write_strip(
    strip: Strip,
    scale: Scale,
    box: tuple[float, float, float],
    stacking: Stacking,
    text_px: float,
    *,
    show_mean: bool,
    misfire_names: tuple[str, str],
) -> tuple[float, list[str]]:
    """Write one strip from the left, right and top px of the box; return its foot and its marks."""
    left_px, right_px, top_px = box
    radius, across, rise = stacking.radius_px, stacking.across, stacking.rise_px
    stacks = _stacks(strip, scale, radius)
    rows = max((math.ceil(count / across) for _, count in stacks), default=0)
    notes = (strip.note != "") + (strip.misfires > 0)
    line_px = top_px + max(rows * rise + radius, text_px * (1.2 + 1.25 * notes))
    colour = MADDER if strip.newest else INK
    parts = [stroke(segment(left_px, line_px, right_px, line_px), INK_2, 1.25)]
    for x, count in stacks:
        for index in range(count):
            row, place = divmod(index, across)
            shift = (place - (min(across, count) - 1) / 2) * radius * _PITCH
            y = line_px - radius - 1.5 - row * rise
            parts.append(circle(x + shift, y, radius, fill=colour))
    parts += _write_names(strip, (left_px, line_px), text_px, colour, misfire_names)
    mean = strip_mean(strip) if show_mean else None
    if mean is not None and scale.low <= mean <= scale.high:
        x, size = scale.to_px(mean), text_px * 0.95
        end = x + 5 + text_width_px(mean_text(mean), size, bold=True) > right_px
        parts += [
            stroke(segment(x, line_px - 5, x, line_px + text_px), colour, 3),
            label(x - 5 if end else x + 5, line_px + text_px, mean_text(mean), size_px=size,
                  colour=colour, bold=True, anchor="end" if end else "start"),
        ]  # fmt: skip
    return line_px + text_px * (1.5 if show_mean else 0.9), parts


def _write_names(
    strip: Strip,
    place: tuple[float, float],
    text_px: float,
    colour: str,
    misfire_names: tuple[str, str],
) -> list[str]:
    left_px, line_px = place
    small_px = text_px * 0.9
    misfires = f"{strip.misfires} {misfire_names[strip.misfires != 1]}" if strip.misfires else ""
    lines = [text for text in (strip.note, misfires) if text]
    y = line_px + text_px * 0.3 - len(lines) * text_px * 1.2
    room_px = left_px - text_px * 0.6
    parts = [
        label(0, y, fit_text(strip.name, text_px, room_px, bold=True), size_px=text_px,
              colour=colour, bold=True)
    ]  # fmt: skip
    for text in lines:
        y += text_px * 1.2
        indent = text_px * 1.1 if text == misfires else 0
        if indent:
            parts.append(hop(text_px * 0.36, y, text_px * 0.3, colour))
        parts.append(label(indent, y, fit_text(text, small_px, room_px - indent), size_px=small_px,
                           colour=INK_2))  # fmt: skip
    return parts


def write_ticks(
    scale: Scale, ticks: Sequence[StripTick], unit: str, top_px: float, text_px: float
) -> tuple[float, list[str]]:
    """Write names and figures of the ticks; a name that has no room is left out."""
    size = text_px * 0.9
    names = {tick.value: tick.name for tick in ticks}
    named = any(names.get(tick) for tick in scale.ticks)
    figure_px = top_px + text_px * (2.3 if named else 1.1)
    parts = []
    free_px = -math.inf
    for tick in scale.ticks:
        x = scale.to_px(tick)
        name = names.get(tick, "")
        half = text_width_px(name, size) / 2
        if name and x - half >= free_px:
            parts.append(label(x, top_px + text_px * 1.1, name, size_px=size, colour=INK_2,
                               anchor="middle"))  # fmt: skip
            free_px = x + half
        parts.append(
            label(x, figure_px, scale.tick_text(tick), size_px=size, bold=named, anchor="middle")
        )
    if unit:
        parts.append(label(0, figure_px, unit, size_px=size, colour=INK_2))
    return figure_px + text_px * 0.3, parts


def _stacks(strip: Strip, scale: Scale, radius_px: float) -> list[tuple[float, int]]:
    places = (scale.to_px(value) for value in known_values(strip.values))
    return stack_px(places, radius_px * _PITCH)
