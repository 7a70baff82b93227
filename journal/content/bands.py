"""What each grade band may see of the numbers: a band in, its Measures out."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

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


@cache
def which_measures(band: GradeBand) -> Measures:
    """Return what the band may see."""
    text = (files("journal.content") / "bands.toml").read_text(encoding="utf-8")
    return Measures(**tomllib.loads(text)[band.value])
