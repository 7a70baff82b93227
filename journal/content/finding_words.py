"""The sentences of findings: a key, a band and figures in, one sentence out."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping

from journal.content.texts import find_entry, get_text, slots_of
from journal.domain.classes import GradeBand
from journal.domain.numbers import NOT_KNOWN, round_half_away, show_figures, show_number, unit_of

#: Decimals a band reads: grade 2 none, grades 3-5 wholes, halves and quarters, then three figures.
_QUARTER = 4
_FIGURES = 3


def find_sentence(key: str, band: GradeBand, language: str, **slots: object) -> str | None:
    """Return a sentence, or None where this band is not told such a thing."""
    singular = f"{key}_one"
    if slots.get("n") == 1 and find_entry("findings", language, singular, band.value) is not None:
        key = singular
    if find_entry("findings", language, key, band.value) is None:
        return None
    text = get_text("findings", language, key, band.value)
    shown = {slot: show_figure(slots.get(slot), band) for slot in slots_of(text)}
    sentence = fill_in(text, shown)
    return sentence[:1].upper() + sentence[1:]


def fill_in(text: str, shown: Mapping[str, str]) -> str:
    """Fill in a text; a unit right behind a figure of one stands in the singular."""

    def _with_unit(found: re.Match[str]) -> str:
        number = shown[found[1]]
        return f"{number} {unit_of(number, shown[found[2]])}"

    # What was filled in may hold braces of its own, so the rest is filled in piece by piece.
    pieces = re.split(r"(\{\w+\} \{(?:amount_)?unit\})", text)
    return "".join(
        re.sub(r"\{(\w+)\} \{(\w+)\}", _with_unit, piece) if number % 2 else piece.format(**shown)
        for number, piece in enumerate(pieces)
    )


def show_figure(value: object, band: GradeBand) -> str:
    """Return a figure as the band reads it; text stays as it is, what is no figure is said so."""
    if isinstance(value, str) and value.strip():
        return value.strip()
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        return NOT_KNOWN
    if value == int(value):
        return show_number(value)
    return _show_broken(value, band)


def _show_broken(value: float, band: GradeBand) -> str:
    """Return a figure that is not whole: rounded for younger readers, and said to be."""
    if band is GradeBand.SIX_TO_EIGHT:
        return show_figures(value, _FIGURES)
    step = 1.0 if band is GradeBand.TWO else 1 / _QUARTER
    if abs(value) < step / 2:
        # Not the same as none at all.
        return "nearly 0"
    if band is GradeBand.TWO:
        return f"about {show_number(value, 0)}"
    quarters = round_half_away(value * _QUARTER) / _QUARTER
    shown = show_number(quarters)
    return shown if quarters == value else f"about {shown}"
