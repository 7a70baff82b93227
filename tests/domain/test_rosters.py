"""A roster as pasted."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.domain.errors import Invalid
from journal.domain.rosters import LONGEST_NICKNAME, MOST_STUDENTS, read_roster
from tests.sentences import what_of


def test_a_list_gives_its_nicknames_in_order() -> None:
    """Empty lines and spaces around are no matter; letters of any language are taken."""
    text = "Pim\r\n\n  Juno \nO’Ren\nAnn-Lu\nBen 2\n17\nŽofie\n小明\n"
    expected = ("Pim", "Juno", "O’Ren", "Ann-Lu", "Ben 2", "17", "Žofie", "小明")
    assert expected == read_roster(text)


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("Pim Carver", "two words"),
        ("Carver, Pim", "two words"),
        ("pim.carver", "two words"),
        ("Pim\tCarver", "two words"),
        ("7 Pim", "two words"),
        ("pim@school.example", "e-mail"),
        ("3.5.2019", "birth date"),
        ("2019-05-03", "birth date"),
        ("Pim 03/05/19", "birth date"),
        ("20190503", "long number"),
        ("P" * (LONGEST_NICKNAME + 1), "too long"),
        ("=SUM", "has signs"),
        ("-Pim", "has signs"),
        ("Pim<b>", "has signs"),
        ("Pi\x00m", "has signs"),
        ("pim", "is in this class already"),
        ("mo", "was in this class before"),
    ],
)
def test_a_line_that_cannot_be_taken_is_named(line: str, word: str) -> None:
    """The problem names the line and says what to write instead."""
    with pytest.raises(Invalid) as refused:
        read_roster(f"Juno\n\n{line}", present=["Pim"], former=["Mo"])
    assert ["line 3"] == [problem.field for problem in refused.value.problems]
    assert word in what_of(refused.value.problems[0])


def test_every_line_is_named_at_once() -> None:
    """Nobody sends a list five times to hear of five lines; a repeated one names its first."""
    with pytest.raises(Invalid) as refused:
        read_roster("Pim\nPIM\na@b\nJuno Vale")
    assert ["line 2", "line 3", "line 4"] == [problem.field for problem in refused.value.problems]
    assert "stands in line 1 already" in what_of(refused.value.problems[0])


def test_an_empty_list_is_told() -> None:
    """A list of empty lines adds nobody and says so."""
    with pytest.raises(Invalid) as refused:
        read_roster(" \n\n")
    assert ["nicknames"] == list(refused.value.by_field())


def test_a_class_does_not_grow_without_end() -> None:
    """The last seats are taken, one more is refused."""
    present = [f"A{n}" for n in range(MOST_STUDENTS - 1)]
    assert ("Pim",) == read_roster("Pim", present)
    with pytest.raises(Invalid) as refused:
        read_roster("Pim\nJuno", present)
    assert "at most 60" in what_of(refused.value.problems[0])


@given(st.text(max_size=200))
def test_any_text_is_either_taken_or_told(text: str) -> None:
    """Whatever is pasted, what comes out is short, has no e-mail sign and no line twice."""
    try:
        nicknames = read_roster(text)
    except Invalid as refused:
        nicknames = ()
        told = refused.problems
    else:
        told = ()
    assert bool(told) != bool(nicknames)
    assert len(nicknames) == len({name.casefold() for name in nicknames})
    assert all(0 < len(name) <= LONGEST_NICKNAME and "@" not in name for name in nicknames)


def test_a_number_of_four_digits_may_be_a_name_and_one_of_five_not() -> None:
    """A longer one may be a telephone, or a school's number of the child."""
    assert ("4711",) == read_roster("4711")
    with pytest.raises(Invalid):
        read_roster("47110")
