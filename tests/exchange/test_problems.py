"""What is wrong with a table is gathered, row by row."""

from journal.domain.errors import Invalid
from journal.exchange.problems import TableProblems
from tests.sentences import raises


def test_rows_are_counted_not_sentences() -> None:
    """Two problems in one row, one of them noted twice, and one of a whole row: two rows."""
    problems = TableProblems()
    for _ in range(2):
        problems.note(3, "value, in points", "Write a number.")
    problems.note(3, "place", "Choose a place.")
    problems.note(12, "", "The row has 3 cells.")
    with raises(Invalid, match="2 rows need mending") as caught:
        problems.finish()
    places = [problem.field for problem in caught.value.problems]
    assert ["row 3, value, in points", "row 3, place", "row 12"] == places


def test_a_table_without_a_problem_passes() -> None:
    """Nothing is raised where nothing was noted."""
    TableProblems().finish()
