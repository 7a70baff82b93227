"""One cell as a value."""

import pytest

from journal.domain.trials import Place, TrialKind
from journal.exchange.cells import BadCell, read_kind, read_number, read_order, read_place


def test_cells_are_read() -> None:
    """Numbers, places in an order, kinds and places; capitals do not matter."""
    assert -2.5 == read_number("-2.5")
    assert 7 == read_order("7")
    assert TrialKind.COUNTED == read_kind("Counted")
    assert Place.NOWHERE == read_place("NOWHERE")


def test_empty_cells_have_their_meaning() -> None:
    """No number, no place, practice."""
    assert read_number("") is None
    assert read_order("") is None
    assert read_place("") is None
    assert TrialKind.PRACTICE == read_kind("")


@pytest.mark.parametrize("text", ["1,5", "2 mm", "nan", "inf", "1e999", "--3", "1e200"])
def test_what_is_no_plain_number_is_refused(text: str) -> None:
    """Decimal commas, units, NaN, infinity and what nobody can measure."""
    with pytest.raises(BadCell):
        read_number(text)


def test_lowest_value_is_kept() -> None:
    """An amount of zero is one; below is none."""
    assert 0.0 == read_number("0", lowest=0.0)
    with pytest.raises(BadCell, match="below 0"):
        read_number("-0.1", lowest=0.0)


def test_order_is_a_whole_number() -> None:
    """Half a place is no place."""
    with pytest.raises(BadCell, match="whole number"):
        read_order("1.5")
