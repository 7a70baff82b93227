"""Numbers read and written."""

import math
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.domain.numbers import (
    AmbiguousNumber,
    NoNumber,
    find_number,
    read_number,
    read_whole,
    read_with_unit,
    round_half_away,
    show_figures,
    show_fixed,
    show_money,
    show_number,
    unit_of,
)
from tests.sentences import raises, sentence_of


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("12.5", 12.5),
        ("12,5", 12.5),
        ("  7 ", 7.0),
        ("0,05", 0.05),
        (",5", 0.5),
        (".5", 0.5),
        ("5.", 5.0),
        ("1,0005", 1.0005),
        ("1.000", 1.0),
        ("−3", -3.0),
        ("–3,5", -3.5),
        ("- 3", -3.0),
        ("+4", 4.0),
        ("1 000", 1000.0),
        # SI Brochure, 9th edition, 2019, section 5.4.4: "43 279.168 29" has thin spaces.
        ("43\u2009279.168", 43279.168),
        ("1\u00a0000,5", 1000.5),
        ("12\u202f000", 12000.0),
        ("1e3", 1000.0),
        ("2,5E−3", 0.0025),
        ("\u0661\u0662", 12.0),
    ],
)
def test_numbers_are_read_as_people_write_them(text: str, number: float) -> None:
    """Point or comma, any sign that looks like a minus, any space between thousands."""
    assert number == read_number(text)


@pytest.mark.parametrize(
    ("text", "large", "small"),
    [
        ("1,000", "1000", "1.000"),
        ("−2,500", "−2500", "−2.500"),
        ("12,345", "12345", "12.345"),
        ("0,125", "125", "0.125"),
        (",500", "500", "0.500"),
        ("1\u00a0000,000", "1000000", "1000.000"),
    ],
)
def test_a_comma_before_three_digits_is_refused(text: str, large: str, small: str) -> None:
    """Both readings are named, and each of them, written so, is read."""
    with pytest.raises(AmbiguousNumber) as caught:
        read_number(text)
    assert f"can be read as {large} or as {small}." in sentence_of(caught.value)
    assert 0 < read_number(small) / read_number(large) <= 0.001


@pytest.mark.parametrize(
    "text",
    ["", "  ", "far", "nan", "inf", "-inf", "1e400", "1_000", "1 2", "1 00", "--3", "5²", "½",
     "1/2", "0x10", "1'000", "12 mm", "1" * 41, "=1+1", "1,2,3", "1,000,000", "1.234,5", "1,234.5",
     ",", "."],
)  # fmt: skip
def test_what_is_no_number_is_refused(text: str) -> None:
    """With a sentence, never with another error."""
    with pytest.raises(NoNumber) as caught:
        read_number(text)
    assert sentence_of(caught.value).endswith(".")


def test_an_empty_field_holds_no_number() -> None:
    """Spaces are nothing either."""
    assert find_number(" \u00a0") is None
    assert find_number("0") == 0


def test_whole_numbers_are_whole() -> None:
    """3.0 is; 2.5 is not."""
    assert 3 == read_whole("3.0") == read_whole("3")
    with raises(NoNumber, match="not a whole number"):
        read_whole("2,5")


@pytest.mark.parametrize(
    ("text", "read"),
    [("30 cm", (30.0, "cm")), ("1,5m", (1.5, "m")), ("−5 mm²", (-5.0, "mm²")), ("3", (3.0, ""))],
)
def test_a_unit_may_follow(text: str, read: tuple[float, str]) -> None:
    """With or without a space; without a unit it is empty."""
    assert read == read_with_unit(text)


@pytest.mark.parametrize(
    ("text", "error"), [("1,500 m", AmbiguousNumber), ("cm", NoNumber), ("3 of 4", NoNumber)]
)
def test_a_number_before_a_unit_follows_the_same_rule(text: str, error: type[Exception]) -> None:
    """Two readings are two readings with a unit as well."""
    if text == "3 of 4":
        assert (3.0, "of 4") == read_with_unit(text)
        return
    with pytest.raises(error):
        read_with_unit(text)


def test_numbers_are_shown_without_needless_digits() -> None:
    """No exponent, no noise of the arithmetic, no minus before a zero."""
    assert ["200", "0.3", "1234567", "0", "-2.5", "not known"] == [
        show_number(value) for value in (200.0, 0.1 + 0.2, 1234567.0, -0.0, -2.5, math.nan)
    ]


def test_a_half_goes_away_from_zero() -> None:
    """As in school; Python's own formats go to the even neighbour."""
    assert ("3", "0.13", "-3", "2.68") == (
        show_fixed(2.5, 0), show_fixed(0.125, 2), show_fixed(-2.5, 0), show_fixed(2.675, 2)
    )  # fmt: skip
    assert (3, -3) == (round_half_away(2.5), round_half_away(-2.5))
    assert "0.00" == show_fixed(-0.001, 2)


def test_digits_that_count() -> None:
    """Whole digits are never rounded away."""
    assert ["6.667", "12346", "0.001235", "8"] == [
        show_figures(value, 4) for value in (20 / 3, 12345.6, 0.0012345, 8.0)
    ]
    assert "1.20" == show_money(120)


@pytest.mark.parametrize(
    ("number", "unit", "shown"),
    [
        ("1", "points", "point"),
        ("about 1", "points", "point"),
        ("2", "points", "points"),
        ("1.5", "points", "points"),
        ("1", "boxes", "box"),
        ("1", "inches", "inch"),
        ("1", "glass", "glass"),
        ("1", "s", "s"),
        ("1", "ms", "ms"),
        ("1", "mm²", "mm²"),
        ("1", "of 10 trials", "of 10 trials"),
        ("1", "", ""),
    ],
)
def test_one_takes_a_unit_in_the_singular(number: str, unit: str, shown: str) -> None:
    """Symbols and phrases have none."""
    assert shown == unit_of(number, unit)


@given(st.decimals(min_value=-(10**9), max_value=10**9, places=6))
def test_what_is_shown_is_read_again(written: float) -> None:
    """The writer's text is one that the reader takes, and it is the same number."""
    value = float(written)
    assert read_number(show_number(value)) == pytest.approx(value, rel=1e-15, abs=5e-7)


@given(st.text(max_size=60))
def test_any_text_is_a_number_or_a_sentence(text: str) -> None:
    """Nothing else is raised, and what is read is finite."""
    with suppress(NoNumber):
        assert math.isfinite(read_number(text))
