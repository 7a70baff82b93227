"""Lengths as people write them: "1.5 m", "150 cm" or "1500" in, whole millimetres out."""

from __future__ import annotations

from journal.domain.errors import Invalid
from journal.domain.messages import Message
from journal.domain.numbers import (
    AmbiguousNumber,
    NoNumber,
    read_with_unit,
    round_half_away,
    show_number,
)

_MM_OF_UNIT = {"": 1.0, "mm": 1.0, "cm": 10.0, "m": 1000.0}


def read_length_mm(text: str, field: str, *, lowest_mm: int = 1, highest_mm: int = 100_000) -> int:
    """Return the length in mm; without a unit it is taken as mm.

    Raises Invalid at the field where it is no length, has an unknown unit or is out of range.
    """
    try:
        number, unit = read_with_unit(text)
    except NoNumber as error:
        if isinstance(error, AmbiguousNumber):
            raise Invalid.at(field, error.message) from error
        raise Invalid.at(field, Message("lengths.not_a_length", text=text)) from error
    if unit.lower() not in _MM_OF_UNIT:
        raise Invalid.at(field, Message("lengths.not_a_unit_used_here", unit=unit))
    length_mm = round_half_away(number * _MM_OF_UNIT[unit.lower()])
    if not lowest_mm <= length_mm <= highest_mm:
        what = Message(
            "lengths.must_lie_between",
            length=show_length(length_mm),
            lowest=show_length(lowest_mm),
            highest=show_length(highest_mm),
        )
        raise Invalid.at(field, what)
    return length_mm


def show_length(length_mm: float) -> str:
    """Return a length in words: metres from one metre on, else mm."""
    if abs(length_mm) >= _MM_OF_UNIT["m"]:
        return f"{show_number(length_mm / 1000)} m"
    return f"{show_number(length_mm)} mm"
