"""Values of factors: what a child writes is kept in the factor's unit, or said to be no value."""

from __future__ import annotations

from datetime import UTC, datetime
from uuid import UUID, uuid4

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journal.domain.challenges import Factor, PartKind
from journal.domain.factor_values import (
    NoValue,
    current_value,
    name_quantity,
    name_value,
    read_value,
    show_value,
)
from journal.domain.revision_rules import OTHER, describe_change, describe_new_value
from journal.domain.revisions import Change, Revision
from tests.sentences import raises, sentence_of

LENGTH = Factor(key="length", name="Length", unit="mm", lowest=80, highest=400, start="180")
AREA = Factor(key="area", name="Fin area", unit="mm²", lowest=0, highest=6000)
BANDS = Factor(key="bands", name="Bands", unit="bands", lowest=1, highest=5, start="1")
TIP = Factor(key="tip", name="Tip", choices=("felt", "cork"), start="felt")
KIND = PartKind(key="dart", name="Dart", own=True, icon="dart", factors=(LENGTH, TIP))


@pytest.mark.parametrize(
    ("factor", "text", "expected"),
    [
        (LENGTH, "300", "300"),
        (LENGTH, "300 mm", "300"),
        (LENGTH, "  300MM ", "300"),
        # 1 cm = 10 mm, 1 m = 1000 mm, 1 cm² = 100 mm²: SI Brochure, 9th edition, table 7.
        (LENGTH, "30 cm", "300"),
        (LENGTH, "30cm.", "300"),
        (LENGTH, "0.3 m", "300"),
        (LENGTH, "12,5 cm", "125"),
        (AREA, "12 cm2", "1200"),
        (AREA, "12 cm²", "1200"),
        (BANDS, "2", "2"),
        (BANDS, "2 bands", "2"),
        (BANDS, "1 band", "1"),
        (TIP, "cork", "cork"),
    ],
)
def test_a_value_is_kept_in_the_unit_of_the_factor(
    factor: Factor, text: str, expected: str
) -> None:
    """A number may come with another unit of the same quantity."""
    assert expected == read_value(factor, text)


@pytest.mark.parametrize(
    ("factor", "text", "sentence"),
    [
        (LENGTH, "", "Write a number in mm, such as 180."),
        (LENGTH, "long", "Write a number in mm, such as 180."),
        (LENGTH, "nan", "Write a number in mm, such as 180."),
        (LENGTH, "inf", "Write a number in mm, such as 180."),
        (LENGTH, "1e9", "“e9” does not fit here. Write it in mm."),
        (LENGTH, "30 g", "“g” does not fit here. Write it in mm."),
        (LENGTH, "30", "30 mm cannot be built here. Stay from 80 to 400 mm."),
        (LENGTH, "30 m", "30000 mm cannot be built here. Stay from 80 to 400 mm."),
        (LENGTH, "9" * 60, "Write a number in mm, such as 180."),
        # Without a start value, the middle of what can be built.
        (AREA, "large", "Write a number in mm², such as 3000."),
        (AREA, "-1", "-1 mm² cannot be built here. Stay from 0 to 6000 mm²."),
        (TIP, "lead", "Tap one of these: felt, cork."),
    ],
)
def test_what_is_no_value_is_told_with_the_way_out(
    factor: Factor, text: str, sentence: str
) -> None:
    """A wrong unit, a word, a number that cannot be built: a sentence says what to write."""
    with pytest.raises(NoValue) as caught:
        read_value(factor, text)
    assert sentence == sentence_of(caught.value)


def test_only_one_limit_is_told_where_there_is_one() -> None:
    """A factor may be open upwards or downwards."""
    open_up = Factor(key="a", name="A", unit="g", lowest=2)
    open_down = Factor(key="b", name="B", unit="g", highest=9)
    for factor, text, sentence in (
        (open_up, "1", "1 g is too little. Start from 2 g."),
        (open_down, "10", "10 g is too much. Go up to 9 g."),
    ):
        with raises(NoValue, match=sentence):
            read_value(factor, text)


@given(st.text(max_size=60))
def test_no_text_breaks_the_reading(text: str) -> None:
    """Whatever is written gives a number within the limits or a sentence."""
    try:
        value = read_value(LENGTH, text)
    except NoValue:
        return
    assert 80 <= float(value) <= 400


def test_a_value_is_shown_with_its_unit() -> None:
    """One band is no bands, and a choice has no unit."""
    shown = [show_value("1", "bands"), show_value("2", "bands"), show_value("cork", "")]
    assert ["1 band", "2 bands", "cork"] == shown


def test_the_current_value_is_the_newest_change_up_the_parents() -> None:
    """A value goes down the family of a revision, not along its numbers."""
    first = _revision(1, None)
    second = _revision(2, first.id, Change(factor="length", from_value="180", to_value="200"))
    third = _revision(3, second.id, Change(factor="tip", from_value="felt", to_value="cork"))
    fourth = _revision(4, first.id)
    made = (first, second, third, fourth)
    assert "180" == current_value("length", first, made, KIND)
    assert "200" == current_value("length", third, made, KIND)
    assert "180" == current_value("length", fourth, made, KIND)
    assert "felt" == current_value("tip", fourth, made, KIND)
    assert "" == current_value("colour", fourth, made, KIND)
    assert "180" == current_value("length", None, made, KIND)


def _revision(number: int, parent_id: UUID | None, *changes: Change) -> Revision:
    return Revision(
        id=uuid4(),
        school_id=uuid4(),
        group_id=uuid4(),
        part_id=uuid4(),
        number=number,
        parent_id=parent_id,
        made_at=datetime(2030, 3, 4, 9, number, tzinfo=UTC),
        session_id=None,
        changes=changes,
        materials=(),
        reason="",
        prediction="",
        maker_ids=(),
        decider_ids=(),
    )


@pytest.mark.parametrize(
    ("name", "value", "unit", "told"),
    [
        ("Bands", "3", "bands", "3 bands"),
        ("bands", "1", "bands", "1 band"),
        ("Paper sheets", "2", "sheets", "2 paper sheets"),
        ("Paper sheets", "1", "sheets", "1 paper sheet"),
        ("Rail length", "300", "mm", "Rail length 300 mm"),
        ("Tip", "cork", "", "Tip cork"),
        ("Bands", "", "bands", "Bands"),
    ],
)
def test_a_unit_that_is_in_the_name_is_said_once(
    name: str, value: str, unit: str, told: str
) -> None:
    """Neither "paper sheets 2 sheets" nor "bands bands"."""
    assert told == name_value(name, value, unit)


def test_an_axis_names_its_unit_once() -> None:
    """Here no value stands beside it."""
    assert ("Bands", "Paper sheets", "Rail length, mm", "Tip") == (
        name_quantity("Bands", "bands"),
        name_quantity("Paper sheets", "sheets"),
        name_quantity("Rail length", "mm"),
        name_quantity("Tip", ""),
    )


@pytest.mark.parametrize("unit", ["bands", ""])
def test_a_change_reads_the_same_whether_its_unit_was_kept_or_not(unit: str) -> None:
    """Neither "bands 2" beside "2 bands", nor "other" before what a group wrote itself."""
    kind = PartKind(key="launcher", name="Launcher", own=False, icon="launcher", factors=(BANDS,))
    change = Change(factor="bands", from_value="1", to_value="2", unit=unit)
    assert "2 bands, was 1 band" == describe_change(change, kind)
    assert "2 bands" == describe_new_value(change, kind, in_sentence=True)
    own_words = Change(factor=OTHER, from_value="", to_value="Tape on the rail")
    assert "Tape on the rail" == describe_new_value(own_words, kind, in_sentence=True)
