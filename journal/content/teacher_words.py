"""The teacher's sentences on the analysis: a key and figures in, one sentence out."""

from __future__ import annotations

from journal.content.finding_words import fill_in, show_figure
from journal.content.texts import find_entry, get_text, slots_of
from journal.domain.classes import GradeBand
from journal.domain.numbers import show_fixed

_FIGURES = GradeBand.SIX_TO_EIGHT
#: A p-value below this is said to be below it.
_LEAST_P = 0.001
#: Up to here a difference is called clear.
_LEVEL = 0.05


def word_for_teacher(key: str, language: str, **slots: object) -> str:
    """Return a sentence; a figure that cannot be said is "not known"."""
    singular = f"{key}_one"
    if slots.get("count") == 1 and find_entry("teacher_words", language, singular) is not None:
        key = singular
    text = get_text("teacher_words", language, key)
    return fill_in(text, {slot: show_figure(slots.get(slot), _FIGURES) for slot in slots_of(text)})


def show_p_value(p_value: float | None) -> str:
    """Return a p-value with three places, such as "0.029"; "" where there is none.

    What a verdict turns on is never rounded away: 0.0504 is not 0.050.
    """
    if p_value is None:
        return ""
    if p_value != _LEVEL and show_fixed(p_value, 3) == show_fixed(_LEVEL, 3):
        return f"just {'above' if p_value > _LEVEL else 'below'} {show_fixed(_LEVEL, 2)}"
    return f"below {_LEAST_P}" if p_value < _LEAST_P else show_fixed(p_value, 3)
