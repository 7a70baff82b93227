"""What a dot plot looks like."""

import pytest

from journal.analysis.shapes import Shape, shape_of, striking_among


@pytest.mark.parametrize(
    ("values", "shape"),
    [
        ([1, 2, 3, 4, 5], Shape.TOO_FEW),
        ([4] * 8, Shape.ALL_SAME),
        ([1, 2, 3, 4, 5, 6, 7, 8], Shape.EVEN),
        ([1, 1, 2, 1, 2, 9, 10, 9, 9, 10], Shape.TWO_HEAPS),
        ([1, 1, 1, 2, 2, 3, 5, 9], Shape.LOPSIDED_HIGH),
        ([9, 9, 9, 8, 8, 7, 5, 1], Shape.LOPSIDED_LOW),
    ],
)
def test_shape_is_named(values: list[float], shape: Shape) -> None:
    """Each shape has one name; fewer than six values have none."""
    assert shape == shape_of(values)


def test_striking_value_is_flagged_by_the_quartile_rule() -> None:
    """Beyond 1.5 quartile ranges (Tukey 1977, from memory): 8.5 and 12 let 3.25..17.25 in."""
    assert (17.5,) == striking_among([8.0, 8.0, 9.0, 10.0, 11.0, 12.0, 12.0, 17.5])
    assert () == striking_among([8.0, 8.0, 9.0, 10.0, 11.0, 12.0, 12.0, 17.0])


def test_fewer_than_five_values_strike_nobody() -> None:
    """Among four values nothing can be called unusual."""
    assert () == striking_among([1.0, 1.0, 1.0, 100.0])


@pytest.mark.parametrize(
    ("values", "scale", "shape"),
    [
        # Points of zones: nothing lies between 4 and 8, the 2 and the 4 between 1 and 8.
        ([4] * 6 + [8] * 6, (0, 1, 2, 4, 8), Shape.NO_NAME),
        ([1] * 6 + [8] * 6, (0, 1, 2, 4, 8), Shape.TWO_HEAPS),
        # Counts: 12 and 13 are neighbours, 12 and 19 are not.
        ([12] * 6 + [13] * 6, (), Shape.NO_NAME),
        ([12] * 6 + [19] * 6, (), Shape.TWO_HEAPS),
        ([0.1, 0.2, 0.1, 0.2, 0.1, 0.9, 0.8, 0.9, 0.8, 0.9], (), Shape.TWO_HEAPS),
        # Too few for heaps, and not even either.
        ([0] * 3 + [8] * 3, (), Shape.NO_NAME),
    ],
)
def test_two_heaps_have_a_gap_between_them(
    values: list[float], scale: tuple[float, ...], shape: Shape
) -> None:
    """Neighbouring scores are no heaps with a gap."""
    assert shape == shape_of(values, scale)


@pytest.mark.parametrize("others", [[8.0], [4.0, 4.0], [0.0, 1.0, 2.0]])
def test_nothing_is_far_where_the_middle_half_is_one_value(others: list[float]) -> None:
    """The quartile range is 0: any other value would lie outside of it."""
    assert () == striking_among([5.0] * 12 + others)
