"""Quantities of a form: texts come in, numbers within their limits go out, or every mistake."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from journal.content.messages import word_message
from journal.domain.errors import Invalid, Problem
from journal.domain.messages import Message, Words
from journal.domain.numbers import NoNumber, read_number, read_whole


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A quantity that is asked for; limits are in its unit, and belong to it."""

    key: str
    label: Message
    unit: str
    lowest: float
    highest: float
    needed: bool = True
    #: People, trials: half of one is none.
    whole: bool = False
    hint: Words = ""


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

    label: Words
    value: Words
    note: Words = ""


def word_figures(figures: Iterable[Figure], language: str) -> tuple[Figure, ...]:
    """Return results in the words of a language."""
    return tuple(
        Figure(
            label=word_message(figure.label, language),
            value=word_message(figure.value, language),
            note=word_message(figure.note, language),
        )
        for figure in figures
    )


def read_quantities(asked: Sequence[Quantity], entered: Mapping[str, str]) -> dict[str, float]:
    """Return the quantities that were written; raise Invalid with a Problem beside each mistake."""
    problems: list[Problem] = []
    given: dict[str, float] = {}
    for quantity in asked:
        text = entered.get(quantity.key, "").strip()
        if text:
            number = _read(quantity, text, problems)
            if number is not None:
                given[quantity.key] = number
        elif quantity.needed:
            problems.append(
                Problem(quantity.key, Message("quantities.write_a_number", unit=quantity.unit))
            )
    if problems:
        raise Invalid(problems[0].what, problems)
    return given


def fields_of(
    asked: Sequence[Quantity], entered: Mapping[str, str], language: str
) -> tuple[QuantityField, ...]:
    """Return the fields with what was written in them."""
    return tuple(
        QuantityField(
            key=quantity.key,
            label=word_message(quantity.label, language),
            unit=quantity.unit,
            value=entered.get(quantity.key, ""),
            hint=word_message(quantity.hint, language),
        )
        for quantity in asked
    )


def _read(quantity: Quantity, text: str, problems: list[Problem]) -> float | None:
    try:
        number = read_whole(text) if quantity.whole else read_number(text)
    except NoNumber as error:
        problems.append(Problem(quantity.key, error.message))
        return None
    if not quantity.lowest <= number <= quantity.highest:
        what = Message(
            "quantities.out_of_reach",
            number=number,
            unit=quantity.unit,
            lowest=quantity.lowest,
            highest=quantity.highest,
        )
        problems.append(Problem(quantity.key, what))
        return None
    return number
