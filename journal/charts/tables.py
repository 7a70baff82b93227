"""The data of a drawing as a table, for whoever listens to it or prefers figures."""

from __future__ import annotations

import math
from dataclasses import dataclass

from journal.domain.numbers import show_fixed, show_number

#: The cell of something nobody can tell: an en dash.
NOTHING = "\u2013"


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartTable:
    """A caption, the heads of the columns, and rows of as many cells."""

    caption: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def cell(value: float | None, places: int = 1) -> str:
    """Return a number as a cell; a dash where there is none to tell."""
    return NOTHING if value is None or not math.isfinite(value) else show_number(value, places)


def mean_text(mean: float) -> str:
    """Return a mean with always one decimal, halves rounded away from zero as in school."""
    return show_fixed(mean, 1)
