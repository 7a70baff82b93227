"""Small systems of equations against numpy."""

from __future__ import annotations

import random

import numpy as np
import pytest

from journal.analysis.equations import invert_positive, solve_equations


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


def test_inverse_and_determinant_agree_with_numpy() -> None:
    """Random positive definite matrices have numpy's inverse and logarithm of determinant."""
    draw = np.random.default_rng(14)
    for _ in range(200):
        root = draw.normal(0, 1, (5, 5))
        matrix = root @ root.T + np.eye(5)
        inverse, log_size = invert_positive(matrix.tolist())
        assert inverse == [pytest.approx(list(row), abs=1e-9) for row in np.linalg.inv(matrix)]
        assert log_size == pytest.approx(np.linalg.slogdet(matrix)[1])
