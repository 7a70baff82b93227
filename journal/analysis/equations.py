"""Small systems of linear equations.

In: a square matrix as rows, and a right-hand side. Out: the solution, or None for a matrix that is
singular to working accuracy (the caller says what that means in its own words); or the inverse,
or `NotPositiveDefinite`.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, log

Vector = list[float]
Matrix = list[list[float]]

#: A pivot this much smaller than the largest entry counts as nothing left.
_SINGULAR = 1e-12


class NotPositiveDefinite(ArithmeticError):
    """A matrix that should be positive definite is not, to working accuracy."""


def solve_equations(
    matrix: Sequence[Sequence[float]], right: Sequence[float]
) -> list[float] | None:
    """Solve one square system, `matrix` times x = `right`, by elimination with partial pivoting.

    None where the matrix is singular to working accuracy. Raises ValueError where it has not as
    many rows as `right` has values.
    """
    rows = [[*map(float, row), float(value)] for row, value in zip(matrix, right, strict=True)]
    size = len(rows)
    largest = max((abs(entry) for row in rows for entry in row[:size]), default=0.0)
    for column in range(size):
        pivot = max(range(column, size), key=lambda row: abs(rows[row][column]))
        if not abs(rows[pivot][column]) > _SINGULAR * largest:
            return None
        rows[column], rows[pivot] = rows[pivot], rows[column]
        lead = rows[column]
        for row in rows[column + 1 :]:
            factor = row[column] / lead[column]
            if factor:
                for k in range(column, size + 1):
                    row[k] -= factor * lead[k]
    solution = [0.0] * size
    for i in range(size - 1, -1, -1):
        known = sum(rows[i][k] * solution[k] for k in range(i + 1, size))
        solution[i] = (rows[i][size] - known) / rows[i][i]
    return solution


def invert_positive(matrix: Matrix) -> tuple[Matrix, float]:
    """Return the inverse of a positive definite `matrix`, and the log of its determinant.

    Raises NotPositiveDefinite where a pivot is not above 0.
    """
    size = len(matrix)
    rows = [[*row, *(1.0 if i == j else 0.0 for j in range(size))] for i, row in enumerate(matrix)]
    log_size = 0.0
    for i in range(size):
        pivot = rows[i][i]
        if not 0.0 < pivot < inf:
            raise NotPositiveDefinite(f"pivot {i} is {pivot}")
        log_size += log(pivot)
        lead = rows[i] = [value / pivot for value in rows[i]]
        for k in range(size):
            factor = rows[k][i]
            if k != i and factor:
                rows[k] = [a - factor * b for a, b in zip(rows[k], lead, strict=True)]
    return [row[size:] for row in rows], log_size
