"""Splits the text of a CSV file into rows of cells, whatever the separator.

Comes in: the content of a file. Goes out: the names of its columns and its rows, each with the
number that a person counts; `Invalid` where the content is no table.
"""

from __future__ import annotations

import csv
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from io import StringIO

from journal.domain.errors import Invalid
from journal.domain.messages import Message

#: Signs that part cells, the usual one first. Spreadsheets write the semicolon where the comma
#: marks decimals.
_SEPARATORS = (",", ";", "\t")


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table: the names in its first row, small and bare, and every row below that says something.

    A row comes with its number as a person counts: the first row, with the names, is row 1.
    """

    header: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    separator: str


def read_sheet(content: str | bytes, columns: Collection[str]) -> Sheet:
    """Read the whole table; the first row, which names columns, tells what parts its cells."""
    text = _text_of(content)
    if "\0" in text:
        raise Invalid.at("file", Message("csv_sheets.file_is_not_plain_text"))
    separator = max(_SEPARATORS, key=lambda mark: _count_known(text, mark, columns))
    lines = _read_lines(text, separator)
    _, header = next(lines, (1, []))
    if not any(cell.strip() for cell in header):
        raise Invalid.at("file", Message("csv_sheets.file_is_empty"))
    return Sheet(
        header=tuple(name.strip().lower() for name in header),
        rows=tuple(
            (row, tuple(cell.strip() for cell in cells))
            for row, cells in lines
            if any(cell.strip() for cell in cells)
        ),
        separator=separator,
    )


def _count_known(text: str, separator: str, columns: Collection[str]) -> int:
    """Count the known columns that the first row names if this sign parts them."""
    first = text.partition("\n")[0].replace('"', "").split(separator)
    return sum(name.strip().lower() in columns for name in first)


def _read_lines(text: str, separator: str) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(StringIO(text, newline=""), strict=True, delimiter=separator)
    try:
        for cells in reader:
            yield reader.line_num, cells
    except csv.Error as error:
        message = Message(
            "csv_sheets.row_cannot_be_read", line_num=reader.line_num, error=str(error)
        )
        raise Invalid.at(f"row {reader.line_num}", message) from error


def _text_of(content: str | bytes) -> str:
    if isinstance(content, str):
        return content.removeprefix("\ufeff")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        message = Message("csv_sheets.file_is_not_in_utf_8")
        raise Invalid.at("file", message) from error
