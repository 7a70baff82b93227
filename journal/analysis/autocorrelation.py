"""Autocorrelation of neighbours: whether results come in runs, whoever had the turn.

Comes in: records of one revision. Goes out: the lag-one correlation of what is left when each
student's own mean is taken away, in the order of the trials.

Notes: p-values take trials as free of each other. Where neighbours are alike they look surer than
they are.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from journal.analysis.descriptive import lag_one_of, mean_of
from journal.analysis.records import TrialRecord, by_student, in_order

#: Correlations beyond so many over the root of n are taken as no chance: the usual bounds of a
#: correlogram (Chatfield, The Analysis of Time Series; from memory).
_BOUND = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Autocorrelation:
    """How much each result resembles the one before it."""

    n: int
    #: From -1 to 1; about -1 / n where only chance orders the results.
    lag_one: float

    @property
    def is_clear(self) -> bool:
        """Tell whether neighbours are more alike than chance makes them."""
        return self.lag_one > _BOUND / math.sqrt(self.n)


def find_autocorrelation(records: Sequence[TrialRecord]) -> Autocorrelation | None:
    """Return the autocorrelation of neighbours; None where no student's results differ.

    A student with one result is left out: beside the own mean it says nothing.
    """
    means = {}
    for student, own in by_student(records).items():
        values = [value for record in own if (value := record.measured) is not None]
        mean = mean_of(values)
        if len(values) > 1 and mean is not None:
            means[student] = mean
    left = [
        value - means[record.student]
        for record in in_order(records)
        if record.student in means and (value := record.measured) is not None
    ]
    lag_one = lag_one_of(left)
    return None if lag_one is None else Autocorrelation(n=len(left), lag_one=lag_one)
