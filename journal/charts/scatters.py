"""Amount beside outcome: pairs come in, dots go out, with a line where there is one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from journal.charts.axes import Plot, write_bottom_axis, write_left_axis
from journal.charts.drawing import circle, draw, label, segment, stroke
from journal.charts.palette import INK, INK_2, MADDER, PAPER
from journal.charts.scales import Scale, fit_scale, known_values
from journal.charts.tables import ChartTable, cell

_LEAST_FOR_LINE = 2
#: More dots than these are drawn smaller.
_CROWD = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class AmountPoint:
    """One trial with the amount that went into it."""

    amount: float
    value: float
    newest: bool = False

    @property
    def is_known(self) -> bool:
        """Tell whether both numbers can be drawn."""
        return len(known_values([self.amount, self.value])) == len(("amount", "value"))


@dataclass(frozen=True, slots=True, kw_only=True)
class TrendLine:
    """A straight line through the dots, as the analysis found it (Theil's)."""

    slope: float
    intercept: float

    @property
    def is_known(self) -> bool:
        """Tell whether both numbers can be drawn."""
        return len(known_values([self.slope, self.intercept])) == len(("slope", "intercept"))


def draw_scatter(
    points: Sequence[AmountPoint],
    *,
    amount_name: str = "Amount",
    value_name: str = "Points",
    line: TrendLine | None = None,
    width_px: float = 504,
    height_px: float = 340,
    text_px: float = 16,
    ground: str = PAPER,
    ids: str = "amounts",
    title: str = "Amount and outcome",
    desc: str = "",
) -> str:
    """Draw one dot a trial; the line reaches over the amounts that were tried and no farther.

    Equal pairs stand side by side, so that each is seen.
    """
    known = [point for point in points if point.is_known]
    plot = Plot(
        left_px=text_px * 3.4,
        top_px=text_px * 2.2,
        right_px=width_px - text_px,
        bottom_px=height_px - text_px * 3.4,
        text_px=text_px,
    )
    amounts = [point.amount for point in known]
    across = fit_scale(amounts, plot.left_px + 8, plot.right_px - 8)
    upwards = fit_scale([point.value for point in known], plot.bottom_px - 8, plot.top_px + 8)
    parts: list[str] = []
    if known:
        parts += write_left_axis(upwards, plot, value_name)
        parts += write_bottom_axis(across, plot, amount_name)
    if line is not None and line.is_known and len(set(amounts)) >= _LEAST_FOR_LINE:
        parts += _trend(line, (min(amounts), max(amounts)), across, upwards)
    radius = 5.0 if len(known) <= _CROWD else 3.2
    seen: dict[tuple[float, float], int] = {}
    for point in sorted(known, key=lambda each: each.newest):
        pair = (point.amount, point.value)
        seen[pair] = seen.get(pair, 0) + 1
        x = across.to_px(point.amount) + _beside(seen[pair]) * radius * 2.1
        parts.append(_write_point(point, (x, upwards.to_px(point.value)), radius, ground))
    if not known:
        parts.append(label(plot.left_px + 16, (plot.top_px + plot.bottom_px) / 2, "No trials yet",
                           size_px=text_px, colour=INK_2))  # fmt: skip
    return draw(
        *parts,
        width_px=width_px,
        height_px=height_px,
        title=title,
        desc=desc or _describe(points, known, amount_name, value_name),
        ids=ids,
    )


def _beside(count: int) -> int:
    """Return 0, 1, -1, 2, -2, ...: where the next of equal dots stands."""
    return count // 2 if count % 2 == 0 else -(count // 2)


def _write_point(point: AmountPoint, place: tuple[float, float], radius: float, ground: str) -> str:
    # The newest stay larger, so that one ink shows them as well.
    drawn = radius * 1.2 if point.newest else radius
    colour = MADDER if point.newest else INK
    return circle(*place, drawn, fill=colour, stroke=ground, stroke_width=1)


def scatter_table(
    points: Sequence[AmountPoint],
    *,
    amount_name: str = "Amount",
    value_name: str = "Points",
    caption: str = "Amount and outcome",
) -> ChartTable:
    """Return the pairs in the order of the trials."""
    return ChartTable(
        caption=caption,
        header=("Trial", amount_name, value_name),
        rows=tuple(
            (str(number), cell(point.amount, 2), cell(point.value, 2))
            for number, point in enumerate(points, start=1)
        ),
    )


def _describe(
    points: Sequence[AmountPoint], known: Sequence[AmountPoint], amount_name: str, value_name: str
) -> str:
    if not known:
        return "No trials yet."
    pairs = ", ".join(f"{cell(point.amount, 2)}: {cell(point.value, 2)}" for point in known)
    absent = len(points) - len(known)
    words = f"{value_name} by {amount_name}. {pairs}."
    return f"{words} {absent} not drawn." if absent else words


def _trend(line: TrendLine, span: tuple[float, float], across: Scale, upwards: Scale) -> list[str]:
    """Write the line over the tried amounts, cut where it leaves the field."""
    ends = []
    for amount in span:
        value = line.intercept + line.slope * amount
        held = min(max(value, upwards.low), upwards.high)
        at = amount if held == value else (held - line.intercept) / (line.slope or 1.0)
        if not span[0] <= at <= span[1]:
            return []
        ends.append((across.to_px(at), upwards.to_px(held)))
    (x1, y1), (x2, y2) = ends
    return [stroke(segment(x1, y1, x2, y2), INK, 2.5)]
