"""Small systems of linear equations.

In: a square matrix as rows, and right-hand sides. Out: the solutions, or None for a matrix
that is singular to working accuracy (the caller says what that means in its own words).
"""

from __future__ import annotations

from collections.abc import Sequence

#: A pivot this much smaller than the largest entry counts as nothing left.
_SINGULAR = 1e-12


def solve_equations(
    matrix: Sequence[Sequence[float]], right: Sequence[float]
) -> list[float] | None:
    """Solve one square system by elimination with partial pivoting; None where singular."""
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
