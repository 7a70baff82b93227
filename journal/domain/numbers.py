"""Numbers as people write and read them: the only place where text becomes a number and back.

Every door reads here: forms, tables, the terminal, texts of documents, strings of the API. A point
or a comma marks the decimals and a space may part thousands (BIPM, The International System of
Units (SI Brochure), 9th edition, 2019, sections 5.4.3 and 5.4.4). A comma before exactly three
digits is refused: "1,000" is a thousand to some and one to others.
"""

from __future__ import annotations

import math
import re
from decimal import ROUND_HALF_UP, Context, Decimal

from journal.domain.messages import Message, Words

#: Stands where a figure cannot be said.
NOT_KNOWN = "not known"
#: Decimals beyond these are noise of the arithmetic in anything that a class measures.
MOST_PLACES = 6

#: "s" and "ms" are no plurals.
_SHORTEST_PLURAL = 3
#: A slip of the finger is never longer than this.
_LONGEST = 40
#: Minus signs and the dashes that keyboards and word processors put in their place.
_MINUS = "-−–‐‑﹣－"
_SIGNS = rf"[+\-{_MINUS[1:]}]"
_WHOLE = r"(?:\d{1,3}(?:\s\d{3})+|\d+)"
#: Read by Python and by the browser alike; a page gets it with `number_pattern`.
_PATTERN = (
    rf"^\s*{_SIGNS}?\s*(?:{_WHOLE}(?:\.\d*|,(?!\d{{3}}\s*$)\d*)?|\.\d+|,(?!\d{{3}}\s*$)\d+)"
    rf"(?:[eE]{_SIGNS}?\d{{1,3}})?\s*$"
)
_NUMBER = re.compile(_PATTERN)
_TWO_READINGS = re.compile(rf"\s*{_SIGNS}?\s*(?:{_WHOLE})?,\d{{3}}\s*")
_TWO_MARKS = re.compile(rf"\s*{_SIGNS}?\s*\d[\d.,\s]*[.,][\d\s]*[.,]\d*\s*")
#: The number at the start and what follows it, which must not begin like a number.
_WITH_UNIT = re.compile(rf"(\s*{_SIGNS}?[\d.,\s]*)([^\d\s.,].*)?", re.DOTALL)
_WIDE = Context(prec=400, rounding=ROUND_HALF_UP)


class NoNumber(ValueError):
    """The text is no number; its message says why and how to mend it."""

    def __init__(self, message: Words) -> None:
        super().__init__(message)
        self.message = message


class AmbiguousNumber(NoNumber):
    """The text can be read as more than one number; its message names them or the way out."""


def number_pattern() -> str:
    """Return the pattern of a number, for a page that checks a field before it sends it."""
    return _PATTERN


def read_number(text: str) -> float:
    """Read a number: "12.5", "12,5", "1 000" or "−3"; raise NoNumber for anything else."""
    if len(text) > _LONGEST or not _NUMBER.match(text):
        raise _explain(text)
    plain = "".join(text.split()).replace(",", ".")
    for sign in _MINUS:
        plain = plain.replace(sign, "-")
    number = float(plain)
    if not math.isfinite(number):
        message = Message("numbers.is_too_large", text=_shorten(text))
        raise NoNumber(message)
    return number


def find_number(text: str) -> float | None:
    """Read a number, None for an empty field; raise NoNumber for anything else."""
    return read_number(text) if text.strip() else None


def read_whole(text: str) -> int:
    """Read a whole number; raise NoNumber for anything else."""
    number = read_number(text)
    if not number.is_integer():
        message = Message("numbers.not_a_whole_number", text=_shorten(text))
        raise NoNumber(message)
    return int(number)


def read_with_unit(text: str) -> tuple[float, str]:
    """Read a number and the unit behind it, such as "30 cm"; the unit may be missing."""
    found = _WITH_UNIT.fullmatch(text)
    if found is None:
        raise _explain(text)
    return read_number(found[1]), (found[2] or "").strip()


def show_number(value: float, places: int = MOST_PLACES) -> str:
    """Return a number as people write it: at most so many decimals, none that are needless."""
    text = show_fixed(value, places)
    return text.rstrip("0").rstrip(".") if "." in text else text


def show_fixed(value: float, places: int) -> str:
    """Return a number with always as many decimals; a half goes away from zero, as in school."""
    if not math.isfinite(value):
        return NOT_KNOWN
    step = Decimal(1).scaleb(-places)
    text = f"{Decimal(repr(float(value))).quantize(step, context=_WIDE):f}"
    return text.removeprefix("-") if not text.strip("-0.") else text


def show_figures(value: float, figures: int = 3) -> str:
    """Return a number with so many digits that count, whole digits always all."""
    if not math.isfinite(value) or not value:
        return show_number(value)
    places = figures - 1 - math.floor(math.log10(abs(value)))
    return show_number(value, max(places, 0))


def show_quantity(value: float) -> str:
    """Return a quantity worked out, with three digits that count, zeros at its end among them."""
    if not math.isfinite(value) or not value:
        return show_number(value)
    places = 2 - math.floor(math.log10(abs(value)))
    shown = show_fixed(value, min(max(places, 0), MOST_PLACES))
    least = show_number(10.0**-MOST_PLACES)
    return shown if shown.strip("-0.") else f"less than {least}"


def show_money(hundredths: float) -> str:
    """Return an amount of money with its two decimals."""
    return show_fixed(hundredths / 100, 2)


def round_half_away(value: float) -> int:
    """Return the nearest whole number; a half goes away from zero, as in school."""
    return int(show_fixed(value, 0))


def unit_of(number: str, unit: str) -> str:
    """Return a unit as it stands behind a number that is shown: "1 point", "1 of 10 trials"."""
    counts_one = number.rpartition(" ")[2] == "1"
    if not counts_one or len(unit) < _SHORTEST_PLURAL or not unit.isalpha():
        return unit
    if unit.endswith(("ches", "shes", "xes", "sses")):
        return unit[:-2]
    return unit[:-1] if unit.endswith("s") and not unit.endswith("ss") else unit


def _explain(text: str) -> NoNumber:
    shown = _shorten(text)
    if not shown:
        return NoNumber(Message("numbers.this_is_empty"))
    if _TWO_READINGS.fullmatch(text):
        whole, _, rest = "".join(text.split()).rpartition(",")
        sign = whole[:1] if whole[:1] in {"+", *_MINUS} else ""
        digits = whole.removeprefix(sign)
        large = f"{sign}{(digits + rest).lstrip('0') or '0'}"
        small = f"{sign}{digits or '0'}.{rest}"
        return AmbiguousNumber(
            Message("numbers.can_be_read_as_or_as", shown=shown, large=large, small=small)
        )
    if _TWO_MARKS.fullmatch(text):
        return AmbiguousNumber(Message("numbers.has_too_many_points_and_commas", shown=shown))
    return NoNumber(Message("numbers.not_a_number", shown=shown))


def _shorten(text: str) -> str:
    words = " ".join(text.split())
    return words if len(words) <= _LONGEST else f"{words[:_LONGEST]}…"
