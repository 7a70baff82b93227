"""Small systems of equations against numpy."""

from __future__ import annotations

import random

import numpy as np
import pytest

from journal.analysis.equations import solve_equations


def test_solutions_agree_with_numpy() -> None:
    """A thousand random systems have numpy's solution."""
    draw = random.Random(3)
    for _ in range(1000):
        size = draw.randint(1, 8)
        matrix = [[draw.uniform(-1, 1) for _ in range(size)] for _ in range(size)]
        right = [draw.uniform(-1, 1) for _ in range(size)]
        if np.linalg.cond(matrix) > 1e6:
            continue
        expected = np.linalg.solve(matrix, right)
        assert solve_equations(matrix, right) == pytest.approx(list(expected), rel=1e-6, abs=1e-9)


def test_a_singular_system_has_no_solution() -> None:
    """Two rows that say the same leave the system without an answer."""
    assert solve_equations([[1, 2], [2, 4]], [1, 2]) is None
    assert solve_equations([[0.0]], [1.0]) is None
