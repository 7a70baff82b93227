"""One cell as a value."""

import pytest

from journal.domain.trials import Place, TrialKind
from journal.exchange.cells import (
    BadCell,
    read_handling,
    read_kind,
    read_name,
    read_number,
    read_order,
    read_place,
)
from tests.sentences import raises


def test_cells_are_read() -> None:
    """Numbers, places in an order, kinds and places; capitals do not matter."""
    assert -2.5 == read_number("-2.5") == read_number("−2,5")
    assert 7 == read_order("7")
    assert TrialKind.COUNTED == read_kind("Counted")
    assert Place.NOWHERE == read_place("NOWHERE")


def test_empty_cells_have_their_meaning() -> None:
    """No number, no place, practice."""
    assert read_number("") is None
    assert read_order("") is None
    assert read_place("") is None
    assert TrialKind.PRACTICE == read_kind("")


@pytest.mark.parametrize("text", ["1,500", "1_5", "2 mm", "nan", "inf", "1e999", "--3", "1e200"])
def test_what_is_no_plain_number_is_refused(text: str) -> None:
    """Two readings, units, NaN, infinity and what nobody can measure."""
    with pytest.raises(BadCell):
        read_number(text)


def test_lowest_value_is_kept() -> None:
    """An amount of zero is one; below is none."""
    assert 0.0 == read_number("0", lowest=0.0)
    with raises(BadCell, match="below 0"):
        read_number("-0.1", lowest=0.0)


def test_order_is_a_whole_number() -> None:
    """Half a place is no place."""
    with raises(BadCell, match="whole number"):
        read_order("1.5")


def test_nothing_comes_before_the_first_trial() -> None:
    """A table may count from 0, but no trial is the third before that."""
    assert 0 == read_order("0")
    with raises(BadCell, match="1 for the first trial"):
        read_order("-3")


@pytest.mark.parametrize("text", ["=1+1", "@SUM(A1)", "+long rail", "-A1", "two\nlines", "x" * 101])
def test_a_formula_is_no_name(text: str) -> None:
    """Nor is what no legend can hold; the sentence says what to write."""
    with raises(BadCell, match=r"plain name|take it out|at most 100"):
        read_name(text)


@pytest.mark.parametrize("text", ["", "-", "3", "-3", "Launcher 1", "long = stiff", "étroit"])
def test_names_are_taken_as_written(text: str) -> None:
    """Numbers, a lone dash, and signs inside a name."""
    assert text == read_name(text)


def test_each_choice_of_how_it_was_used_is_a_name() -> None:
    """Several may stand in one cell."""
    assert "pull=full; tilt=mark 3" == read_handling("pull=full; tilt=mark 3")
    with raises(BadCell, match="plain name"):
        read_handling("pull=full; =1+1")
