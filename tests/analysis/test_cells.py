"""Cells: sorting trials, and telling which effects the data's design can part."""

from __future__ import annotations

import numpy as np
import pytest

from journal.analysis.cells import Effect, Observation, are_separable, sort_into_cells
from tests.analysis.observations import DenseLikelihood, draw_observations, effects_of

CROSSED = [Effect.REVISION, Effect.STUDENT, Effect.INTERACTION, Effect.REPEAT]


def trials(*cells: tuple[str, str, int]) -> list[Observation]:
    """Return trials from (revision, student, how many)."""
    return [
        Observation(revision=revision, student=student, own_part="", value=float(place))
        for revision, student, count in cells
        for place in range(count)
    ]


def test_cells_hold_count_mean_and_squares() -> None:
    """Three trials of one student with one revision are one cell."""
    (cell,) = sort_into_cells(trials(("1", "3", 3)), with_own_part=False).cells
    assert (cell.count, cell.mean, cell.squares) == (3, 1.0, 2.0)


@pytest.mark.parametrize(
    ("cells", "expected"),
    [
        ([("1", "a", 2), ("1", "b", 2), ("2", "a", 2), ("2", "b", 2)], True),
        ([("1", "a", 1), ("1", "b", 1), ("2", "a", 1), ("2", "b", 1)], False),
        ([("1", "a", 2), ("2", "a", 2)], False),
        ([("1", "a", 2), ("1", "b", 2)], False),
        ([("1", "a", 2), ("2", "b", 2)], False),
    ],
    ids=["crossed", "no repeats", "one student", "one revision", "each their own"],
)
def test_designs_that_can_and_cannot_be_parted(
    cells: list[tuple[str, str, int]], *, expected: bool
) -> None:
    """Only students who share revisions and repeat them part all four effects."""
    assert are_separable(sort_into_cells(trials(*cells), with_own_part=False), CROSSED) is expected


def test_the_rank_agrees_with_numpy() -> None:
    """Separable is what numpy calls full rank of the projected matrices, in random designs."""
    found = []
    for seed in range(200):
        seen = draw_observations(seed, exchanged=True, most=12)
        effects = effects_of(exchanged=True)
        mean_out = np.eye(len(seen)) - 1 / len(seen)
        shared = DenseLikelihood(seen, effects).shared
        flat = np.array([(mean_out @ each @ mean_out).ravel() for each in shared])
        lengths = np.linalg.norm(flat, axis=1)
        full = bool(lengths.min() > 1e-6)
        full = full and int(np.linalg.matrix_rank(flat.T / lengths, tol=1e-5)) == len(effects)
        found.append(full)
        assert are_separable(sort_into_cells(seen, with_own_part=True), effects) is full
    assert 0 < sum(found) < len(found)
