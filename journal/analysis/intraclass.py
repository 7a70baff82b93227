"""Intraclass correlation: how much of the variance between ratings lies in what is rated.

In: a table of things rated (rows) by scorers (columns). Out: the six forms of Shrout & Fleiss
(1979), for single ratings and for their mean.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from journal.analysis.mean_squares import split_one_way, split_two_way

_FEWEST = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Intraclass:
    """The six correlations and the mean squares they rest on."""

    between_mean_square: float
    within_mean_square: float
    scorer_mean_square: float
    error_mean_square: float
    #: Each thing rated by other scorers.
    one_way: float | None
    #: The same scorers for all, drawn from many.
    two_way: float | None
    #: These scorers and no others.
    fixed: float | None
    one_way_of_mean: float | None
    two_way_of_mean: float | None
    fixed_of_mean: float | None


def correlate_ratings(table: Sequence[Sequence[float]]) -> Intraclass | None:
    """Work out the correlations; None with fewer than two things or two scorers."""
    count = len(table)
    if count < _FEWEST or len(table[0]) < _FEWEST:
        return None
    scorers = len(table[0])
    one = split_one_way(table)
    two = split_two_way([[[value] for value in row] for row in table])
    between = two.row.mean_square
    within = one.within.mean_square
    scorer = two.column.mean_square
    error = two.interaction.mean_square
    bias = scorers * (scorer - error) / count
    return Intraclass(
        between_mean_square=between,
        within_mean_square=within,
        scorer_mean_square=scorer,
        error_mean_square=error,
        one_way=_divide(between - within, between + (scorers - 1) * within),
        two_way=_divide(between - error, between + (scorers - 1) * error + bias),
        fixed=_divide(between - error, between + (scorers - 1) * error),
        one_way_of_mean=_divide(between - within, between),
        two_way_of_mean=_divide(between - error, between + (scorer - error) / count),
        fixed_of_mean=_divide(between - error, between),
    )


def _divide(above: float, below: float) -> float | None:
    return above / below if below else None
