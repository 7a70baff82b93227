"""Columns of dots as words and as a table: the same trials come in, text goes out."""

from __future__ import annotations

from collections.abc import Sequence

from journal.charts.dot_columns import DotColumn, DotRow, column_mean
from journal.charts.tables import NOTHING, ChartTable, mean_text


def describe_dots(
    columns: Sequence[DotColumn], rows: Sequence[DotRow], *, show_mean: bool = False
) -> str:
    """Say each revision's trials row by row, its misfires and, where asked for, its mean."""
    sentences = []
    for column in columns:
        counts = _counts(column, rows)
        parts = [
            f"{row.name or row.figure} {count}"
            for row, count in zip(rows, counts, strict=True)
            if count
        ]
        if column.misfires:
            parts.append("1 misfire" if column.misfires == 1 else f"{column.misfires} misfires")
        absent = len(column.dots) - sum(counts)
        if absent:
            parts.append(f"{absent} in no row")
        mean = column_mean(column, rows) if show_mean else None
        if mean is not None:
            parts.append(f"mean {mean_text(mean)}")
        sentences.append(
            f"Revision {column.revision.label}: {', '.join(parts) or 'no trials yet'}."
        )
    return " ".join(sentences) or "No trials yet."


def dots_table(
    columns: Sequence[DotColumn],
    rows: Sequence[DotRow],
    *,
    show_mean: bool = False,
    caption: str = "Trials by revision",
) -> ChartTable:
    """Return the counts as a table, a line a revision."""
    heads = [f"{row.name} {row.figure}".strip() for row in rows]
    return ChartTable(
        caption=caption,
        header=("Revision", *heads, "Misfires", *(("Mean",) if show_mean else ())),
        rows=tuple(
            (
                column.revision.label,
                *(str(count) for count in _counts(column, rows)),
                str(column.misfires),
                *((_mean_cell(column, rows),) if show_mean else ()),
            )
            for column in columns
        ),
    )


def _mean_cell(column: DotColumn, rows: Sequence[DotRow]) -> str:
    mean = column_mean(column, rows)
    return NOTHING if mean is None else mean_text(mean)


def _counts(column: DotColumn, rows: Sequence[DotRow]) -> list[int]:
    return [sum(dot.row == row.key for dot in column.dots) for row in rows]
