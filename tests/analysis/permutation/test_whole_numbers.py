"""Values as whole numbers."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from journal.analysis.permutation.whole_numbers import to_whole


def test_tenths_become_whole_numbers_of_tenths() -> None:
    """A float stands for the decimal that a person wrote."""
    whole = to_whole([0.1, 0.3, 12.0])
    assert (1, 3, 120) == whole.numbers
    assert 10 == whole.per_one


@given(st.lists(st.floats(allow_nan=False, allow_infinity=False), min_size=1, max_size=6))
def test_every_finite_value_comes_back_exactly(values: list[float]) -> None:
    """Nothing is rounded on the way, however fine or large the values are."""
    whole = to_whole(values)
    assert [Fraction(repr(value)) for value in values] == [
        Fraction(number, whole.per_one) for number in whole.numbers
    ]
    assert values == [whole.value_of(number) for number in whole.numbers]
