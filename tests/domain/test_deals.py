"""Dealing students into groups."""

from __future__ import annotations

import pytest

from journal.domain.deals import deal


@pytest.mark.parametrize(
    ("students", "sizes"),
    [
        (0, []),
        (2, []),
        (3, [3]),
        (4, [4]),
        (5, [5]),
        (6, [3, 3]),
        (7, [4, 3]),
        (9, [5, 4]),
        (11, [4, 4, 3]),
        (24, [4] * 6),
        (26, [4, 4, 4, 4, 4, 3, 3]),
    ],
)
def test_groups_are_about_four(students: int, sizes: list[int]) -> None:
    """Sizes are as even as can be, none under three or over five."""
    assert sizes == [len(group) for group in deal(range(students))]


@pytest.mark.parametrize("students", range(3, 61))
def test_everybody_is_dealt_once(students: int) -> None:
    """Nobody is left over or dealt twice, and each group has three to five."""
    groups = deal(range(students))
    assert list(range(students)) == sorted(student for group in groups for student in group)
    assert {3, 4, 5} >= {len(group) for group in groups}
