"""Values of factors: a child's text comes in, a value in the factor's own unit goes out."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from uuid import UUID

from journal.domain.challenges import Factor, PartKind
from journal.domain.messages import Message, Words
from journal.domain.numbers import AmbiguousNumber, NoNumber, read_with_unit, show_number, unit_of
from journal.domain.revisions import Change, Revision
from journal.domain.sentences import clean_words

#: The key of a change that is none of the challenge's factors; its value is own words.
OTHER = "other"
#: How much of own words a change keeps.
MOST_LETTERS = 200

#: Units of one quantity with their size, so that "30 cm" is taken where mm are asked for.
#: SI prefixes: BIPM, The International System of Units (SI Brochure), 9th edition, 2019, table 7.
_QUANTITIES: tuple[Mapping[str, float], ...] = (
    {"mm": 1.0, "cm": 10.0, "m": 1000.0},
    {"mm²": 1.0, "cm²": 100.0, "m²": 1_000_000.0},
    {"mg": 0.001, "g": 1.0, "kg": 1000.0},
    {"ml": 1.0, "cl": 10.0, "dl": 100.0, "l": 1000.0},
    {"ms": 0.001, "s": 1.0, "min": 60.0},
)


class NoValue(ValueError):
    """The text is no value of the factor; its message says how to mend it."""

    def __init__(self, message: Words) -> None:
        super().__init__(message)
        self.message = message


def read_value(factor: Factor, text: str) -> str:
    """Return the value as it is kept: one of the choices, or a number in the factor's unit.

    Raises NoValue for a word that is no choice, for no number, for a unit that measures something
    else and for a number that cannot be built.
    """
    words = clean_words(text)
    if factor.choices:
        if words not in factor.choices:
            message = Message("factor_values.tap_one_of_these", choices=tuple(factor.choices))
            raise NoValue(message)
        return words
    value = _read_number(factor, words)
    low, high = factor.lowest, factor.highest
    if (low is not None and value < low) or (high is not None and value > high):
        raise NoValue(_limits_sentence(factor, value))
    return show_number(value)


def show_value(value: str, unit: str) -> str:
    """Return a value with its unit, such as "200 mm", "1 band" or "cork"."""
    if not unit or not value:
        return value
    return f"{value} {unit_of(value, unit)}"


def name_value(name: str, value: str, unit: str) -> str:
    """Return what was set to what: "Rail length 300 mm", but "3 paper sheets", not "sheets" twice.

    The name keeps its capital where it comes first.
    """
    words = name.split()
    if not value or not unit or not words or words[-1].casefold() != unit.casefold():
        return f"{name} {show_value(value, unit)}".strip()
    kept = [*words[:-1], unit_of(value, words[-1])]
    return " ".join([value, *(word[:1].lower() + word[1:] for word in kept)])


def name_quantity(name: str, unit: str) -> str:
    """Return a quantity with its unit, for an axis: "Rail length, mm", but "Bands" alone."""
    words = name.split()
    if not unit or (words and words[-1].casefold() == unit.casefold()):
        return name
    return f"{name}, {unit}"


def current_value(
    factor: str, revision: Revision | None, revisions: Sequence[Revision], kind: PartKind
) -> str:
    """Return a factor's value at a revision: the newest change on the way up its parents.

    Where none of them names it, it is the challenge's start value; may be empty.
    """
    by_id: dict[UUID, Revision] = {known.id: known for known in revisions}
    seen: set[UUID] = set()
    at = revision
    while at is not None and at.id not in seen:
        seen.add(at.id)
        change = find_change(at, factor)
        if change is not None:
            return change.to_value
        at = by_id.get(at.parent_id) if at.parent_id else None
    known = kind.find_factor(factor)
    return known.start if known else ""


def find_change(revision: Revision, factor: str) -> Change | None:
    """Return what the revision changed about a factor, or None."""
    return next((change for change in revision.changes if change.factor == factor), None)


def _read_number(factor: Factor, text: str) -> float:
    try:
        value, unit = read_with_unit(text)
    except AmbiguousNumber as error:
        raise NoValue(error.message) from error
    except NoNumber as error:
        message = Message(
            "factor_values.write_a_number_in", unit=factor.unit, example=_example(factor)
        )
        raise NoValue(message) from error
    return value * _scale(unit, factor)


def _scale(unit: str, factor: Factor) -> float:
    written = unit.strip().lower().replace("2", "²").removesuffix(".")
    own = factor.unit.lower()
    if not written or written in {own, own.removesuffix("s")}:
        return 1.0
    for sizes in _QUANTITIES:
        if own in sizes and written in sizes:
            return sizes[written] / sizes[own]
    message = Message("factor_values.does_not_fit_here", unit=unit.strip(), factor_unit=factor.unit)
    raise NoValue(message)


def _limits_sentence(factor: Factor, value: float) -> Message:
    shown = show_value(show_number(value), factor.unit)
    if factor.lowest is None:
        return Message(
            "factor_values.is_too_much", shown=shown, bound=_bound(factor.highest, factor)
        )
    if factor.highest is None:
        return Message(
            "factor_values.is_too_little", shown=shown, bound=_bound(factor.lowest, factor)
        )
    low = show_number(factor.lowest)
    return Message(
        "factor_values.cannot_be_built_here",
        shown=shown,
        low=low,
        bound=_bound(factor.highest, factor),
    )


def _bound(value: float | None, factor: Factor) -> str:
    return show_value(show_number(value or 0.0), factor.unit)


def _example(factor: Factor) -> str:
    low = factor.lowest if factor.lowest is not None else 10.0
    high = factor.highest if factor.highest is not None else low + 10.0
    middle = (low + high) / 2
    return factor.start or show_number(math.floor(middle))
