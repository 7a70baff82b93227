"""The panel as the diagnosis sees it: a rectangle about the aim point, in its own unit.

In: the edges in mm. Out: the probability that a normal variable lies between two edges (a table).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import erf, exp, log, sqrt

from journal.analysis.diagnosis.causes import PANEL_MM, UNIT_MM

#: Columns per unit of the table: the mean of the variable, out to 20 units on either side.
COLUMNS = 10
_FARTHEST = 20
#: The index of the column for a mean of 0, plus a half so that `int` rounds.
MIDDLE = _FARTHEST * COLUMNS + 0.5
#: Rows of the table: the natural logarithm of the standard deviation, 100 steps of 0.04 from 0.15
#: units up to about 8 units (15 to 790 mm on a panel of 600 mm); beyond, the last row stands in.
_LOG_STEP = 0.04
_LOWEST_LOG = log(0.15)
_SIZES = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The edges of a panel, in mm from the aim point; `frame_of_side` makes the usual one."""

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
    """Return the frame of a square panel with sides of `side_mm`.

    `aim_mm` is the aim point from the left and bottom edges; None means the middle.
    """
    x_mm, y_mm = (side_mm / 2, side_mm / 2) if aim_mm is None else aim_mm
    return Frame(left_mm=-x_mm, right_mm=side_mm - x_mm, bottom_mm=-y_mm, top_mm=side_mm - y_mm)


def between(low: float, high: float, middle: float, sd: float) -> float:
    """Return the probability that a normal variable about `middle` lies between `low` and `high`.

    `sd` is its standard deviation, above 0; all are in one unit.
    """
    scale = sd * sqrt(2)
    return (erf((high - middle) / scale) - erf((low - middle) / scale)) / 2


@lru_cache(maxsize=8)
def chances_between(low: float, high: float) -> tuple[tuple[float, ...], ...]:
    """Return a table of `between` for `low` and `high`: a row per sd, a column per mean."""
    half = _FARTHEST * COLUMNS
    return tuple(
        tuple(
            between(low, high, at / COLUMNS, exp(_LOWEST_LOG + _LOG_STEP * size))
            for at in range(-half, half + 1)
        )
        for size in range(_SIZES)
    )
