"""What each grade band may see of the numbers: a band in, its Measures out."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from dataclasses import dataclass, fields, replace
from functools import cache
from importlib.resources import files

from journal.content.texts import get_text
from journal.domain.classes import GradeBand


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """Which measures and pictures a band is shown, and how long its sentences are."""

    show_counts: bool
    show_dot_plot: bool
    show_decimals: bool
    #: Biggest minus smallest.
    show_range: bool
    show_mean: bool
    show_median: bool
    show_quartiles: bool
    #: Mean absolute deviation.
    show_deviation: bool
    show_box_plot: bool
    show_scatter_plot: bool
    show_p_value: bool
    most_words_a_sentence: int


#: What a teacher can open or close for a class, in the order of the form.
MEASURE_NAMES = tuple(
    measure.name for measure in fields(Measures) if measure.name.startswith("show_")
)


@cache
def which_measures(band: GradeBand) -> Measures:
    """Return what the band may see."""
    text = (files("journal.content") / "bands.toml").read_text(encoding="utf-8")
    return Measures(**tomllib.loads(text)[band.value])


def with_measures(measures: Measures, changes: Iterable[tuple[str, bool]]) -> Measures:
    """Return the measures with some opened or closed; names that nobody knows are passed over."""
    known = {name: is_open for name, is_open in changes if name in MEASURE_NAMES}
    return replace(measures, **known)


def all_measures(band: GradeBand) -> Measures:
    """Return every measure open, with sentences as long as the band's: what a teacher sees."""
    return with_measures(which_measures(band), ((name, True) for name in MEASURE_NAMES))


def get_measure_words(name: str, language: str) -> tuple[str, str]:
    """Return a measure's name and what it shows, for the teacher."""
    return (
        get_text("measures", language, name, "name"),
        get_text("measures", language, name, "note"),
    )
