"""The panel as the diagnosis sees it: a rectangle about the aim point, in its own unit.

In: the edges in mm. Out: how likely a hit lands on the panel, looked up in a table.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import erf, exp, log, sqrt

from journal.analysis.diagnosis.causes import PANEL_MM, UNIT_MM

#: Columns of the table, a unit: where a hit is expected. Rows: the logarithm of the scatter.
COLUMNS = 10
_FARTHEST = 20
#: The column of 0, and a half to round by.
MIDDLE = _FARTHEST * COLUMNS + 0.5
_LOG_STEP = 0.04
_LOWEST_LOG = log(0.15)
_SIZES = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The edges of a panel from the aim point, in mm; `from_side` makes the usual one."""

    left_mm: float
    right_mm: float
    bottom_mm: float
    top_mm: float

    @property
    def unit_mm(self) -> float:
        """Return the diagnosis's unit of length on this panel."""
        side = min(self.right_mm - self.left_mm, self.top_mm - self.bottom_mm)
        return UNIT_MM * side / PANEL_MM


def frame_of_side(side_mm: float, aim_mm: tuple[float, float] | None = None) -> Frame:
    """Return the frame of a square panel; the aim point, from left and bottom, or the middle."""
    x_mm, y_mm = (side_mm / 2, side_mm / 2) if aim_mm is None else aim_mm
    return Frame(left_mm=-x_mm, right_mm=side_mm - x_mm, bottom_mm=-y_mm, top_mm=side_mm - y_mm)


def between(low: float, high: float, middle: float, sd: float) -> float:
    """Return how likely a normal variable lies between two values."""
    scale = sd * sqrt(2)
    return (erf((high - middle) / scale) - erf((low - middle) / scale)) / 2


@lru_cache(maxsize=8)
def chances_between(low: float, high: float) -> tuple[tuple[float, ...], ...]:
    """Return a table of `between`: one row a scatter, one column a middle."""
    half = _FARTHEST * COLUMNS
    return tuple(
        tuple(
            between(low, high, at / COLUMNS, exp(_LOWEST_LOG + _LOG_STEP * size))
            for at in range(-half, half + 1)
        )
        for size in range(_SIZES)
    )


def row_of(variance: float) -> int:
    """Return the row of the table for a scatter."""
    row = round((log(variance) / 2 - _LOWEST_LOG) / _LOG_STEP)
    return min(max(row, 0), _SIZES - 1)
