"""Mean squares: sums of squares of one-way and of two-way tables, every cell equally full.

In: values sorted into groups or cells. Out: sums and means of squares, F, p, and the variance
parts that the expected mean squares give (all effects random). Formulas: Montgomery, Design and
Analysis of Experiments, chapters on random factors and nested designs.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain
from math import fsum, inf

from journal.analysis.distributions import f_exceedance


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """One line of an analysis of variance."""

    squares: float
    freedom: int

    @property
    def mean_square(self) -> float:
        """Return the mean square; 0 without degrees of freedom."""
        return self.squares / self.freedom if self.freedom else 0.0

    def f_against(self, other: Source) -> float:
        """Return F against another line; infinite where that one does not vary."""
        if other.mean_square == 0.0:
            return inf if self.mean_square else 0.0
        return self.mean_square / other.mean_square

    def p_against(self, other: Source) -> float:
        """Return the probability of an F this large by chance."""
        return f_exceedance(self.f_against(other), self.freedom, other.freedom)


@dataclass(frozen=True, slots=True, kw_only=True)
class OneWay:
    """Groups against what varies inside them."""

    between: Source
    within: Source


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoWay:
    """Rows x columns x repeats, equally full; all effects random."""

    row: Source
    column: Source
    #: Without repeats this is what is left over, and `repeat` is None.
    interaction: Source
    repeat: Source | None
    row_variance: float
    column_variance: float
    interaction_variance: float | None
    repeat_variance: float


def split_one_way(groups: Sequence[Sequence[float]]) -> OneWay:
    """Split the squares of values in groups (of any size, none empty)."""
    count = sum(len(group) for group in groups)
    grand = fsum(chain.from_iterable(groups)) / count
    means = [_mean(group) for group in groups]
    between = fsum(
        len(group) * (mean - grand) ** 2 for group, mean in zip(groups, means, strict=True)
    )
    return OneWay(
        between=Source(squares=between, freedom=len(groups) - 1),
        within=Source(squares=_squares_within(groups), freedom=count - len(groups)),
    )


def split_two_way(table: Sequence[Sequence[Sequence[float]]]) -> TwoWay:
    """Split the squares of `table[row][column][repeat]`, at least two rows and columns."""
    return split_two_way_means(
        [[_mean(cell) for cell in row] for row in table],
        repeats=len(table[0][0]),
        repeat_squares=_squares_within(list(chain.from_iterable(table))),
    )


def split_two_way_means(
    means: Sequence[Sequence[float]], *, repeats: int, repeat_squares: float
) -> TwoWay:
    """Split the squares of a two-way table known by its cell `means`, rows by columns.

    Each cell has `repeats` values; `repeat_squares` is the sum of squares inside all cells.
    """
    rows, columns = len(means), len(means[0])
    row_means = [_mean(row) for row in means]
    column_means = [_mean(column) for column in zip(*means, strict=True)]
    grand = _mean(row_means)
    row = Source(
        squares=columns * repeats * fsum((mean - grand) ** 2 for mean in row_means),
        freedom=rows - 1,
    )
    column = Source(
        squares=rows * repeats * fsum((mean - grand) ** 2 for mean in column_means),
        freedom=columns - 1,
    )
    interaction = Source(
        squares=repeats
        * fsum(
            (means[i][j] - row_means[i] - column_means[j] + grand) ** 2
            for i in range(rows)
            for j in range(columns)
        ),
        freedom=(rows - 1) * (columns - 1),
    )
    repeat = None
    if repeats > 1:
        repeat = Source(squares=repeat_squares, freedom=rows * columns * (repeats - 1))
    left_over = interaction.mean_square
    return TwoWay(
        row=row,
        column=column,
        interaction=interaction,
        repeat=repeat,
        row_variance=(row.mean_square - left_over) / (columns * repeats),
        column_variance=(column.mean_square - left_over) / (rows * repeats),
        interaction_variance=(
            None if repeat is None else (left_over - repeat.mean_square) / repeats
        ),
        repeat_variance=left_over if repeat is None else repeat.mean_square,
    )


def _mean(values: Sequence[float]) -> float:
    return fsum(values) / len(values)


def _squares_within(groups: Sequence[Sequence[float]]) -> float:
    total = []
    for group in groups:
        mean = _mean(group)
        total.append(fsum((value - mean) ** 2 for value in group))
    return fsum(total)
