"""A table of two scorers: levels out, or each line to mend."""

from __future__ import annotations

import pytest

from journal.domain.errors import Invalid
from journal.exchange.agreement import read_scored_twice
from tests.sentences import sentence_of


def test_every_number_between_is_a_level() -> None:
    """A level that nobody gave still lies between two others."""
    found = read_scored_twice("\ufeffscorer_a,scorer_b\n1,4\n 04 , 4\n,\n")
    assert (("1", "4"), ("4", "4")) == (found.first, found.second)
    assert ("1", "2", "3", "4") == found.levels


def test_named_levels_keep_their_order_and_columns_may_stand_anywhere() -> None:
    """Other columns are passed over."""
    text = "portfolio,Scorer_B,scorer_a\n7,yes,no\n"
    found = read_scored_twice(text, ("no", "nearly", "yes"))
    assert (("no",), ("yes",), ("no", "nearly", "yes")) == (
        found.first,
        found.second,
        found.levels,
    )


def test_a_table_without_lines_has_no_levels() -> None:
    """Nothing was scored twice: no mistake, but nothing to tell."""
    assert () == read_scored_twice("scorer_a,scorer_b\n").levels


@pytest.mark.parametrize(
    ("text", "levels", "told"),
    [
        ("", (), "The file is empty"),
        ("a,b\n1,2\n", (), "Line 1: there is no column scorer_a and none scorer_b."),
        ("scorer_a\n1\n", (), "no column scorer_b"),
        ("scorer_a,scorer_b\n1\n", (), "Line 2: scorer_b is empty"),
        ("scorer_a,scorer_b\n1,2.5\n", (), "“2.5”, which is no whole number"),
        ("scorer_a,scorer_b\n1,nan\n", (), "“nan”, which is no whole number"),
        ("scorer_a,scorer_b\n1,99999999999999\n", (), "a rubric has fewer"),
        ("scorer_a,scorer_b\n1,80\n", (), "The levels go from 1 to 80"),
        ("scorer_a,scorer_b\nyes,perhaps\n", ("no", "yes"), "none of the levels no, yes"),
    ],
)
def test_a_mistake_is_named_by_its_line(text: str, levels: tuple[str, ...], told: str) -> None:
    """The sentence says what stands there."""
    with pytest.raises(Invalid) as caught:
        read_scored_twice(text, levels)
    assert told in sentence_of(caught.value)


def test_all_mistakes_are_told_at_once() -> None:
    """Two lines, two sentences."""
    with pytest.raises(Invalid) as caught:
        read_scored_twice("scorer_a,scorer_b\nx,1\n1,\n")
    assert ["2", "3"] == [problem.field for problem in caught.value.problems]
