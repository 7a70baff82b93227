"""The data of a drawing as a table, for whoever listens to it or prefers figures."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from journal.charts.drawing import figure

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
    return NOTHING if value is None or not math.isfinite(value) else figure(value, places)


def mean_text(value: float, places: int = 1) -> str:
    """Return a mean with always as many places, halves rounded away from zero as in school."""
    step = Decimal(1).scaleb(-places)
    return f"{Decimal(repr(float(value))).quantize(step, rounding=ROUND_HALF_UP):f}"


def tally_table(
    pairs: Sequence[tuple[str, str]], *, row_name: str, column_name: str, caption: str
) -> ChartTable:
    """Count how often each row word meets each column word, with totals: a two-way table.

    Rows and columns stand in order of first appearance.
    """
    row_words = tuple(dict.fromkeys(row for row, _ in pairs))
    column_words = tuple(dict.fromkeys(column for _, column in pairs))
    counts: dict[tuple[str, str], int] = {}
    for pair in pairs:
        counts[pair] = counts.get(pair, 0) + 1
    rows = [
        (row, *(str(counts.get((row, column), 0)) for column in column_words), str(total))
        for row in row_words
        for total in [sum(counts.get((row, column), 0) for column in column_words)]
    ]
    totals = [
        str(sum(counts.get((row, column), 0) for row in row_words)) for column in column_words
    ]
    return ChartTable(
        caption=caption,
        header=(f"{row_name} / {column_name}", *column_words, "Total"),
        rows=(*rows, ("Total", *totals, str(len(pairs)))),
    )
