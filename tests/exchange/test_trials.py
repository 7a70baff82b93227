"""Trials from CSV."""

import math

import pytest

from journal.domain.errors import Invalid
from journal.domain.outcomes import LESS_IS_BETTER, MORE_IS_BETTER, near_is_better
from journal.domain.trials import Place, TrialKind
from journal.exchange.trials import CsvTrial, direction_of, read_trials, records_of
from tests.sentences import what_of

FULL = (
    "group,revision,student,own_part,handling,session,panel,order,kind,distance_mm,"
    "x_mm,y_mm,place,value,amount,misfire\n"
    "Owls,R1,4,D4,full,1,big,3,counted,2000,-30,40.5,panel,8,2,\n"
)


def _problems(content: str | bytes) -> list[tuple[str, str]]:
    with pytest.raises(Invalid) as caught:
        read_trials(content)
    return [(problem.field, what_of(problem)) for problem in caught.value.problems]


def test_every_column_is_read() -> None:
    """A full row becomes a typed trial."""
    expected = CsvTrial(
        row=2,
        group="Owls",
        revision="R1",
        student="4",
        own_part="D4",
        handling="full",
        session="1",
        panel="big",
        order=3,
        kind=TrialKind.COUNTED,
        distance_mm=2000.0,
        x_mm=-30.0,
        y_mm=40.5,
        place=Place.PANEL,
        value=8.0,
        amount=2.0,
        misfire=None,
        guest=False,
        owner="",
    )
    assert [expected] == read_trials(FULL)


def test_two_columns_are_enough() -> None:
    """Practice where the kind is empty, "" and None for the rest; blank rows are passed over."""
    trials = read_trials("revision,value\nR1,3\n\n,\nR2,4.5\n")
    assert [("R1", 3.0, 2), ("R2", 4.5, 5)] == [
        (trial.revision, trial.value, trial.row) for trial in trials
    ]
    assert {TrialKind.PRACTICE} == {trial.kind for trial in trials}
    assert {""} == {trial.group for trial in trials}


def test_mark_at_the_start_and_other_line_ends_are_taken() -> None:
    """As spreadsheets save it: a byte order mark, CRLF, quotes, capitals in the header."""
    content = b'\xef\xbb\xbfRevision, Value\r\n"R 1, long",3\r\n'
    assert ["R 1, long"] == [trial.revision for trial in read_trials(content)]


def test_row_may_lack_the_measure_where_the_reason_stands() -> None:
    """A misfire with its cause, or a place, stands for the measure."""
    trials = read_trials("revision,value,place,misfire\nR1,,wall,\nR1,,,cord slipped\n")
    assert [Place.WALL, None] == [trial.place for trial in trials]
    assert [None, "cord slipped"] == [trial.misfire for trial in trials]


def test_every_bad_row_is_named_with_its_column_and_nothing_is_taken() -> None:
    """All problems at once, so that one look mends the file."""
    content = (
        "revision,x_mm,y_mm,value,amount,order,kind,place,distance_mm\n"
        "R1,1,2,5,1,1,practice,panel,2000\n"
        ",1,2,5,1,1,practice,panel,2000\n"
        "R1,1,,5,1,1,practice,panel,2000\n"
        "R1,1,2,five,-1,1.5,trying,floor,-3\n"
        "R1,,,,,,,,\n"
        "R1,1\n"
        "R1,nan,inf,1e999,1,1,,,\n"
    )
    assert [
        "row 3, revision",
        "row 4, y_mm",
        "row 5, order",
        "row 5, kind",
        "row 5, distance_mm",
        "row 5, place",
        "row 5, value",
        "row 5, amount",
        "row 6, value",
        "row 7",
        "row 8, x_mm",
        "row 8, y_mm",
        "row 8, value",
    ] == [field for field, _ in _problems(content)]


def test_sentences_say_what_to_do() -> None:
    """The wrong text is quoted and the way to write it is named."""
    (problem,) = _problems("revision,value\nR1,12 mm\n")
    assert "row 2, value" == problem[0]
    assert "“12 mm” is not a number. Write one such as 12 or 2.5." == problem[1]


def test_unknown_columns_are_refused_unless_ignored() -> None:
    """Each is named; asked to, they are passed over."""
    content = "revision,value,mood\nR1,3,good\n"
    assert "mood" in _problems(content)[0][1]
    assert 1 == len(read_trials(content, ignore_unknown=True))


@pytest.mark.parametrize(
    ("content", "word"),
    [
        ("", "empty"),
        ("\n", "empty"),
        ("value\n3\n", "revision"),
        ("revision,x_mm\nR1,3\n", "no measure"),
        ("revision,value,value\nR1,3,4\n", "twice"),
        ("revision,value\n", "one row for each trial"),
        ("revision,value\nR1,12,5\n", "decimals with a point"),
        ("revision,value\n=1+1,3\n", "formula"),
        ('revision,value\nR1,"3\n', "quote"),
        ("revision,value\nR1,3\0\n", "plain text"),
        (b"revision,value\nR\xe9,3\n", "UTF-8"),
    ],
)
def test_files_that_cannot_be_read_say_why(content: str | bytes, word: str) -> None:
    """No traceback: a sentence with the place and the way to mend it."""
    assert any(word in what for _, what in _problems(content))


@pytest.mark.parametrize(
    "content",
    [
        "revision;value;handling\nR1;12,5;full\nR1;−3;half\n",
        'revision\tvalue\thandling\nR1\t"12,5"\tfull\nR1\t-3\thalf\n',
        'revision,value,handling\nR1,"12,5",full\nR1,-3,half\n',
        '"Revision";"Value";"Handling"\r\n"R1";"12.5";"full"\r\n"R1";"-3,0";"half"\r\n',
    ],
)
def test_what_parts_the_cells_does_not_matter(content: str) -> None:
    """Comma, semicolon or tab, as a spreadsheet of any country saves it."""
    assert [12.5, -3.0] == [trial.value for trial in read_trials(content)]
    assert ["full", "half"] == [trial.handling for trial in read_trials(content)]


def test_a_number_with_two_readings_names_both() -> None:
    """A thousand or one: the table does not say which."""
    ((field, what),) = _problems('revision,value\nR1,"1,000"\n')
    assert "row 2, value" == field
    assert "1000 or as 1.000" in what
    assert "1000 or as 1.000" in _problems("revision;value\nR1;1,000\n")[0][1]


def test_groups_come_in_order_of_first_appearance() -> None:
    """Rows of one group need not stand together; row order stands in for a missing order."""
    groups = records_of(read_trials("group,revision,value\nb,R1,1\na,R1,2\nb,R2,3\n"))
    assert ["b", "a"] == list(groups)
    assert ["R1", "R2"] == [record.revision for record in groups["b"]]
    assert groups["b"][0].order < groups["b"][1].order


def test_order_is_taken_where_all_trials_of_a_group_have_one() -> None:
    """One missing place, and the rows give the order."""
    full = records_of(read_trials("revision,value,order\nR1,1,9\nR1,2,4\n"))[""]
    assert [9, 4] == [record.order for record in full]
    partly = records_of(read_trials("revision,value,order\nR1,1,9\nR1,2,\n"))[""]
    assert [2, 3] == [record.order for record in partly]


def test_distance_from_the_aim_point_is_measured_where_there_is_no_value() -> None:
    """3-4-5: the distance counts and less is better; one value makes values the outcome."""
    hits = read_trials("revision,x_mm,y_mm\nR1,3,4\n")
    assert 5.0 == records_of(hits)[""][0].value
    assert LESS_IS_BETTER == direction_of(hits)
    mixed = read_trials("revision,x_mm,y_mm,value\nR1,3,4,\nR1,3,4,8\n")
    assert [None, 8.0] == [record.value for record in records_of(mixed)[""]]
    assert MORE_IS_BETTER == direction_of(mixed)
    assert near_is_better(3) == direction_of(hits, near_is_better(3))


def test_no_number_survives_that_is_none() -> None:
    """What is read is finite."""
    (trial,) = read_trials("revision,value\nR1,1e5\n")
    assert trial.value is not None
    assert math.isfinite(trial.value)
