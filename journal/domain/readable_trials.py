"""Trials without figures too large or too small to compute with."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from journal.domain.trials import Trial

#: A figure beyond this is no measure of a device.
_MOST = 1e12
_FIGURES = ("value", "x_mm", "y_mm", "amount")


def read_trial(trial: Trial) -> Trial:
    """Return the trial without figures that are no numbers, or that nobody could have measured.

    A tablet cannot send such a figure; a table taken over from elsewhere or a damaged file might.
    """
    if all(
        figure is None or -_MOST <= figure <= _MOST
        for figure in (trial.value, trial.x_mm, trial.y_mm, trial.amount)
    ):
        return trial
    figures = ((name, getattr(trial, name)) for name in _FIGURES)
    # What is not a number does not lie between the two either.
    absurd: dict[str, Any] = {
        name: None
        for name, figure in figures
        if figure is not None and not -_MOST <= figure <= _MOST
    }
    return replace(trial, **absurd)
