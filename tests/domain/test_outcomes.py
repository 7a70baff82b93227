"""Which way an outcome is better."""

import pytest

from journal.domain.errors import Invalid
from journal.domain.outcomes import (
    LESS_IS_BETTER,
    MORE_IS_BETTER,
    Direction,
    DirectionKind,
    near_is_better,
    read_direction,
)


def test_each_direction_tells_the_better_of_two() -> None:
    """More, less, and near a value from either side."""
    assert MORE_IS_BETTER.merit(3) > MORE_IS_BETTER.merit(2)
    assert LESS_IS_BETTER.merit(2) > LESS_IS_BETTER.merit(3)
    assert near_is_better(40).merit(42) > near_is_better(40).merit(37)
    assert near_is_better(40).merit(43) == near_is_better(40).merit(37)


@pytest.mark.parametrize("text", ["more", "less", "near:40", "near:-2.5"])
def test_directions_are_read_as_they_are_written(text: str) -> None:
    """What is printed can be read again."""
    assert text == str(read_direction(f" {text.upper()} "))


@pytest.mark.parametrize("text", ["", "up", "near", "near:", "near:nan", "near:inf", "more:3"])
def test_anything_else_is_refused_with_the_way_to_write_it(text: str) -> None:
    """A wrong word never becomes a direction."""
    with pytest.raises(Invalid):
        read_direction(text)


def test_value_belongs_to_nearness_only() -> None:
    """No direction is half made."""
    with pytest.raises(Invalid):
        Direction(kind=DirectionKind.NEAR)
    with pytest.raises(Invalid):
        Direction(kind=DirectionKind.MORE, near=3.0)
