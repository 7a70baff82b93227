"""Reads one cell of a table: a value, or a sentence that says what is wrong with it.

Comes in: the text of a cell. Goes out: a value, None for an empty cell; `BadCell` otherwise.
"""

from __future__ import annotations

import math
import re

from journal.analysis.records import LARGEST
from journal.domain.messages import Message, Words
from journal.domain.numbers import NoNumber, find_number
from journal.domain.trials import Place, TrialKind

#: A name is read in a heading and in a legend: nothing longer fits.
LONGEST_NAME = 100
#: A spreadsheet takes a cell that begins so for a formula ("CSV injection", OWASP, from memory), so
#: a name that begins so is a formula gone astray. A plain number is none, nor is a lone dash.
_FORMULA = re.compile(r"[=@]|[+-](?![\d.,\s]*$)")


class BadCell(Exception):
    """A cell cannot be read; its message says what is wrong and how to mend it."""

    def __init__(self, message: Words) -> None:
        super().__init__(message)
        self.message = message


def read_handling(text: str) -> str:
    """Read how it was used: a few names and their choices, which together may be long."""
    for choice in text.split(";"):
        read_name(choice.strip())
    return text


def read_name(text: str) -> str:
    """Read a name, such as a revision's; refuse a formula and what nobody can print."""
    if _FORMULA.match(text):
        raise BadCell(Message("csv_cells.formula_to_a_spreadsheet", text=text[:LONGEST_NAME]))
    if len(text) > LONGEST_NAME:
        raise BadCell(Message("csv_cells.name_is_too_long", longest_name=LONGEST_NAME))
    if not text.isprintable():
        raise BadCell(Message("csv_cells.name_holds_a_line_break_or_a_sign"))
    return text


def read_number(text: str, *, lowest: float = -math.inf) -> float | None:
    """Read a number that is not below `lowest`; None for an empty cell."""
    try:
        number = find_number(text)
    except NoNumber as error:
        raise BadCell(error.message) from None
    if number is None:
        return None
    if not abs(number) <= LARGEST:
        raise BadCell(Message("csv_cells.not_a_number_that_can_be_measured", text=text))
    if number < lowest:
        raise BadCell(Message("csv_cells.is_too_small", text=text, lowest=lowest))
    return number


def read_order(text: str) -> int | None:
    """Read a place in the order of trials; None for an empty cell."""
    number = read_number(text)
    if number is None:
        return None
    if not number.is_integer() or number < 0:
        raise BadCell(Message("csv_cells.no_place_in_an_order", text=text))
    return int(number)


def read_guest(text: str) -> bool:
    """Return whether somebody from outside the group launched: yes, or nothing."""
    word = read_name(text).casefold()
    if word in {"", "no"}:
        return False
    if word != "yes":
        raise BadCell(Message("guest_tests.yes_or_empty"))
    return True


def read_kind(text: str) -> TrialKind:
    """Read practice or counted; practice for an empty cell."""
    try:
        return TrialKind(text.lower() or TrialKind.PRACTICE)
    except ValueError:
        raise BadCell(Message("csv_cells.no_kind_of_trial", text=text)) from None


def read_place(text: str) -> Place | None:
    """Read panel, wall or nowhere; None for an empty cell."""
    if not text:
        return None
    try:
        return Place(text.lower())
    except ValueError:
        raise BadCell(Message("csv_cells.is_no_place", text=text)) from None
