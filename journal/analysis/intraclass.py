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
    #: How often scorers who see no difference between the things would come as far (F test).
    p_value: float | None


def correlate_ratings(table: Sequence[Sequence[float]]) -> Intraclass | None:
    """Return the intraclass correlations of a `table`: a row per thing rated, a column per scorer.

    None with fewer than two things or two scorers. A single correlation is None where there is too
    little variety to divide by. Shrout & Fleiss, Psychological Bulletin 86 (1979), 420-428,
    doi:10.1037/0033-2909.86.2.420 (from memory).
    """
    count = len(table)
    if count < _FEWEST or len(table[0]) < _FEWEST:
        return None
    scorers = len(table[0])
    by_thing = split_one_way(table)
    by_thing_and_scorer = split_two_way([[[value] for value in row] for row in table])
    between = by_thing_and_scorer.row.mean_square
    within = by_thing.within.mean_square
    scorer = by_thing_and_scorer.column.mean_square
    error = by_thing_and_scorer.interaction.mean_square
    fixed = _divide(between - error, between + (scorers - 1) * error)
    bias = scorers * (scorer - error) / count
    return Intraclass(
        between_mean_square=between,
        within_mean_square=within,
        scorer_mean_square=scorer,
        error_mean_square=error,
        one_way=_divide(between - within, between + (scorers - 1) * within),
        two_way=_divide(between - error, between + (scorers - 1) * error + bias),
        fixed=fixed,
        one_way_of_mean=_divide(between - within, between),
        two_way_of_mean=_divide(between - error, between + (scorer - error) / count),
        fixed_of_mean=_divide(between - error, between),
        p_value=None
        if fixed is None
        else by_thing_and_scorer.row.p_against(by_thing_and_scorer.interaction),
    )


def _divide(above: float, below: float) -> float | None:
    # Where scorers differ by less than their errors, the part of the scorers may come out below 0.
    return above / below if below > 0.0 else None
