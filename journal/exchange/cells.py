"""One cell of a table as a value, or as the sentence that says what is wrong with it.

Comes in: the text of a cell. Goes out: a value, None for an empty cell; `BadCell` otherwise.
"""

from __future__ import annotations

import math

from journal.analysis.records import LARGEST
from journal.domain.trials import Place, TrialKind


class BadCell(Exception):
    """A cell cannot be read; `str()` says what is wrong and how to mend it."""


def read_number(text: str, *, lowest: float = -math.inf) -> float | None:
    """Read a plain number that is not below `lowest`; None for an empty cell."""
    if not text:
        return None
    try:
        number = float(text)
    except ValueError:
        message = f'"{text}" is not a number: write digits only, with a point for decimals.'
        raise BadCell(message) from None
    if not abs(number) <= LARGEST:
        raise BadCell(f'"{text}" is not a number that can be measured: leave the cell empty.')
    if number < lowest:
        raise BadCell(f"{text} is too small: it cannot be below {lowest:g}.")
    return number


def read_order(text: str) -> int | None:
    """Read a place in the order of trials; None for an empty cell."""
    number = read_number(text)
    if number is None:
        return None
    if not number.is_integer():
        raise BadCell(f'"{text}" is no place in an order: write a whole number.')
    return int(number)


def read_kind(text: str) -> TrialKind:
    """Read practice or counted; practice for an empty cell."""
    try:
        return TrialKind(text.lower() or TrialKind.PRACTICE)
    except ValueError:
        raise BadCell(f'"{text}" is no kind of trial: write practice or counted.') from None


def read_place(text: str) -> Place | None:
    """Read panel, wall or nowhere; None for an empty cell."""
    if not text:
        return None
    try:
        return Place(text.lower())
    except ValueError:
        raise BadCell(f'"{text}" is no place: write panel, wall or nowhere.') from None
