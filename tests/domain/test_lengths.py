"""Lengths as people write them."""

from __future__ import annotations

import pytest

from journal.domain.errors import Invalid
from journal.domain.lengths import read_length_mm, show_length
from tests.sentences import what_of


@pytest.mark.parametrize(
    ("text", "length_mm"),
    [("1500", 1500), ("1500 mm", 1500), ("150cm", 1500), ("1.5 m", 1500), ("1,5 M", 1500)],
)
def test_reads_a_length_in_each_unit(text: str, length_mm: int) -> None:
    """mm, cm and m are taken, with a point or a comma; without a unit it is mm."""
    assert length_mm == read_length_mm(text, "distance")


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("far", "is not a length"),
        ("-3 m", "must lie between"),
        ("1,500 m", "1500 or as 1.500"),
        ("", "is not a length"),
        ("5 ft", "is not a unit"),
        ("0", "must lie between"),
        ("200 m", "must lie between"),
        ("nan", "is not a length"),
    ],
)
def test_says_what_is_wrong_with_a_length(text: str, told: str) -> None:
    """The sentence stands beside the field and says how to mend it."""
    with pytest.raises(Invalid) as caught:
        read_length_mm(text, "distance")
    assert "distance" == caught.value.problems[0].field
    assert told in what_of(caught.value.problems[0])


def test_shows_metres_from_one_metre_on() -> None:
    """Shorter lengths are shown in mm."""
    assert ("1.5 m", "240 mm") == (show_length(1500), show_length(240))
