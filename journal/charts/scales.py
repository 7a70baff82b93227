"""Scales: values come in, places in px and round ticks go out."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from journal.domain.numbers import show_number

#: Beyond these sizes a drawing can show nothing of use; a slip of the finger must not break it.
_MOST = 1e12


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """A straight scale from values to px, with its ticks."""

    low: float
    high: float
    start_px: float
    end_px: float
    ticks: tuple[float, ...]

    def to_px(self, value: float) -> float:
        """Return the place of a value."""
        share = (value - self.low) / (self.high - self.low)
        return self.start_px + share * (self.end_px - self.start_px)

    def tick_text(self, tick: float, *, signed: bool = False) -> str:
        """Return a tick as text, with as many places as the steps need."""
        step = self.ticks[1] - self.ticks[0] if len(self.ticks) > 1 else 1.0
        places = max(0, -math.floor(math.log10(step) + 1e-9)) if step < 1 else 0
        text = show_number(tick, places)
        if text.startswith("-"):
            return f"\u2212{text[1:]}"
        return f"+{text}" if signed and text != "0" else text


def known_values(values: Iterable[float | None]) -> tuple[float, ...]:
    """Return the values that can be drawn: those that are there, finite and of a sane size."""
    return tuple(
        float(value)
        for value in values
        if value is not None and math.isfinite(value) and abs(value) < _MOST
    )


def fit_scale(
    values: Sequence[float], start_px: float, end_px: float, *, most_ticks: int = 7
) -> Scale:
    """Make a scale with round ticks that holds all values; 0 to 1 where there are none."""
    low, high = (min(values), max(values)) if values else (0.0, 1.0)
    if high - low <= abs(high) * 1e-9:
        room = abs(high) * 0.5 or 1.0
        low, high = low - room, high + room
    step = _round_step((high - low) / max(1, most_ticks - 1))
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    ticks = tuple(index * step for index in range(first, last + 1))
    return Scale(low=ticks[0], high=ticks[-1], start_px=start_px, end_px=end_px, ticks=ticks)


def stack_px(places_px: Iterable[float], width_px: float) -> list[tuple[float, int]]:
    """Gather places closer than a dot into stacks; return each stack's middle and its size.

    Dots are gathered from the left, as in L. Wilkinson, "Dot plots", The American Statistician
    53 (1999), pages 276-281 (from memory); equal places stay exactly where they are.
    """
    stacks: list[list[float]] = []
    for place in sorted(places_px):
        if stacks and place - stacks[-1][0] < width_px:
            stacks[-1].append(place)
        else:
            stacks.append([place])
    return [((stack[0] + stack[-1]) / 2, len(stack)) for stack in stacks]


def least_gap(places_px: Sequence[float]) -> float:
    """Return the least distance between neighbours; infinity where there are fewer than two."""
    ordered = sorted(places_px)
    return min((right - left for left, right in pairwise(ordered)), default=math.inf)


def _round_step(step: float) -> float:
    power = 10.0 ** math.floor(math.log10(step))
    return next(power * factor for factor in (1, 2, 5, 10) if power * factor >= step * 0.999999)
