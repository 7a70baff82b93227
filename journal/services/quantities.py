"""Quantities of a form: texts come in, numbers within their limits go out, or every mistake."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from journal.domain.errors import Invalid, Problem

#: Figures are shown with three digits that count, and no more than six decimals.
_DIGITS = 3
_MOST_DECIMALS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A quantity that is asked for; limits are in its unit, and belong to it."""

    key: str
    label: str
    unit: str
    lowest: float
    highest: float
    needed: bool = True
    hint: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class QuantityField:
    """A field of the form, as far as it is filled in."""

    key: str
    label: str
    unit: str
    value: str
    hint: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A result: what it is, its value with the unit, and what is to be known about it."""

    label: str
    value: str
    note: str = ""


def read_quantities(asked: Sequence[Quantity], entered: Mapping[str, str]) -> dict[str, float]:
    """Return the quantities that were written; raise Invalid with a Problem beside each mistake."""
    problems: list[Problem] = []
    given: dict[str, float] = {}
    for quantity in asked:
        text = entered.get(quantity.key, "").strip().replace(",", ".").replace("−", "-")
        if text:
            number = _read(quantity, text, problems)
            if number is not None:
                given[quantity.key] = number
        elif quantity.needed:
            problems.append(Problem(quantity.key, f"Write a number, in {quantity.unit}."))
    if problems:
        raise Invalid(problems[0].what, problems)
    return given


def fields_of(asked: Sequence[Quantity], entered: Mapping[str, str]) -> tuple[QuantityField, ...]:
    """Return the fields with what was written in them."""
    return tuple(
        QuantityField(
            key=one.key,
            label=one.label,
            unit=one.unit,
            value=entered.get(one.key, ""),
            hint=one.hint,
        )
        for one in asked
    )


def show_number(value: float) -> str:
    """Return a number with three digits that count and without an exponent."""
    if not math.isfinite(value):
        return "not known"
    if not value:
        return "0"
    decimals = _DIGITS - 1 - math.floor(math.log10(abs(value)))
    shown = f"{value:.{min(max(decimals, 0), _MOST_DECIMALS)}f}"
    return "less than 0.000001" if not float(shown) else shown


def _read(quantity: Quantity, text: str, problems: list[Problem]) -> float | None:
    try:
        number = float(text)
    except ValueError:
        number = math.nan
    if not math.isfinite(number):
        what = f"“{text}” is not a number. Write one such as 12 or 2.5."
        problems.append(Problem(quantity.key, what))
        return None
    if not quantity.lowest <= number <= quantity.highest:
        what = (
            f"{number:g} {quantity.unit} is out of reach. Write a number from "
            f"{quantity.lowest:g} to {quantity.highest:g}."
        )
        problems.append(Problem(quantity.key, what))
        return None
    return number
