"""A difference with its interval: three numbers come in, a line beside zero goes out."""

from __future__ import annotations

from dataclasses import dataclass

from journal.charts.drawing import circle, label, segment, stroke, text_width_px
from journal.charts.palette import INK, INK_2, RULE
from journal.charts.scales import Scale, fit_scale, known_values
from journal.charts.tables import mean_text

MINUS = "\u2212"


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """New minus old, with a 95 % interval where there is one."""

    value: float | None
    low: float | None = None
    high: float | None = None
    unit: str = ""

    @property
    def is_known(self) -> bool:
        """Tell whether there is a difference to draw."""
        return len(known_values([self.value])) == 1

    @property
    def interval(self) -> tuple[float, float] | None:
        """Return the interval, from its lower to its higher end."""
        ends = known_values([self.low, self.high])
        return (min(ends), max(ends)) if len(ends) == len(("low", "high")) else None

    @property
    def is_clear_of_zero(self) -> bool:
        """Tell whether the interval leaves zero out."""
        return self.interval is not None and (self.interval[0] > 0 or self.interval[1] < 0)


def signed_text(value: float) -> str:
    """Return a difference with its sign and one place."""
    text = mean_text(abs(value))
    if not text.strip("0."):
        return text
    return f"{'+' if value > 0 else MINUS}{text}"


def write_difference(
    difference: Difference,
    box: tuple[float, float, float],
    *,
    text_px: float,
    name: str,
    interval_name: str,
    ground: str,
) -> tuple[list[str], float]:
    """Write a difference between the left and right px of the box, from its top; with its height.

    Clear of zero: heavy bar and solid dot. Not told apart: thin bar and open dot.
    """
    left_px, right_px, top_px = box
    axis_px = top_px + text_px * 2.5
    parts = [label(0, axis_px + text_px * 0.34, name, size_px=text_px)]
    if not difference.is_known or difference.value is None:
        parts.append(
            label(left_px, axis_px + text_px * 0.34, "Cannot be told yet", size_px=text_px,
                  colour=INK_2)
        )  # fmt: skip
        return parts, text_px * 4.4
    interval = difference.interval
    scale = fit_scale(
        [0.0, difference.value, *(interval or ())], left_px + text_px, right_px - text_px * 1.6
    )
    figures = f"{signed_text(difference.value)} {difference.unit}".strip()
    interval_words = _interval_text(interval, interval_name)
    parts += _caption(figures, interval_words, (left_px, right_px, top_px), text_px)
    parts += _axis(scale, axis_px, (left_px, right_px), text_px)
    middle_px, clear = scale.to_px(difference.value), difference.is_clear_of_zero
    if interval is not None:
        low_px, high_px = scale.to_px(interval[0]), scale.to_px(interval[1])
        parts.append(stroke(segment(low_px, axis_px, high_px, axis_px), INK, 4 if clear else 1.5))
        ends = "".join(segment(x, axis_px - 6, x, axis_px + 6) for x in (low_px, high_px))
        parts.append(stroke(ends, INK, 2))
    parts.append(
        circle(middle_px, axis_px, 6, fill=INK if clear else ground,
               stroke=ground if clear else INK, stroke_width=2)
    )  # fmt: skip
    return parts, text_px * 4.4


def _interval_text(interval: tuple[float, float] | None, name: str) -> str:
    if interval is None:
        return ""
    return f"{name}: {signed_text(interval[0])} to {signed_text(interval[1])}"


def _caption(
    figures: str, interval_words: str, box: tuple[float, float, float], text_px: float
) -> list[str]:
    """Write the figures over the bar, pulled to the left and made smaller where room is short."""
    left_px, right_px, top_px = box
    whole_px = text_width_px(figures, text_px, bold=True)
    whole_px += text_px * 0.6 + text_width_px(interval_words, text_px * 0.9)
    start_px = max(0.0, min(left_px, right_px - whole_px))
    size = text_px * min(1.0, right_px / whole_px)
    told_px = start_px + text_width_px(figures, size, bold=True) + size * 0.6
    y = top_px + text_px
    parts = [label(start_px, y, figures, size_px=size, bold=True)]
    if interval_words:
        parts.append(label(told_px, y, interval_words, size_px=size * 0.9, colour=INK_2))
    return parts


def describe_difference(difference: Difference, interval_name: str = "95 % interval") -> str:
    """Say the difference with its interval."""
    if not difference.is_known or difference.value is None:
        return "The difference cannot be told yet."
    words = f"{signed_text(difference.value)} {difference.unit}".strip()
    if difference.interval is None:
        return f"Difference {words}."
    return f"Difference {words}; {_interval_text(difference.interval, interval_name)}."


def _axis(scale: Scale, y: float, ends: tuple[float, float], text_px: float) -> list[str]:
    zero_px = scale.to_px(0)
    parts = [stroke(segment(ends[0], y, ends[1], y), RULE, 1.5)]
    parts += [
        label(scale.to_px(tick), y + text_px * 1.7, scale.tick_text(tick, signed=True),
              size_px=text_px * 0.9, colour=INK_2, anchor="middle")
        for tick in scale.ticks
    ]  # fmt: skip
    return [*parts, stroke(segment(zero_px, y - 14, zero_px, y + 14), INK, 1.5)]
