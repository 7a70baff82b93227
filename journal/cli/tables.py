"""A CSV file as commands read it: a path in, its trials out, or every problem as a line."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from journal.cli.sentences import Stop
from journal.content.messages import word_error, word_message
from journal.domain.errors import Invalid
from journal.exchange.trials import CsvTrial, read_trials


def read_table(file: Path, *, ignore_unknown: bool) -> list[CsvTrial]:
    """Return the trials of a file; stop with every problem, row and column named."""
    with problems_by_row(file):
        return read_trials(file.read_bytes(), ignore_unknown=ignore_unknown)


@contextmanager
def problems_by_row(file: Path) -> Iterator[None]:
    """Turn what is wrong with a table into one line a problem, each with its place."""
    try:
        yield
    except Invalid as error:
        whole = word_error(error)
        # What is wrong with the table as a whole is its sentence already: it is said once.
        rows = [problem.field for problem in error.problems if problem.what == error.message]
        place = ", ".join([file.name, *(row for row in rows if row.startswith("row "))])
        lines = [
            f"  {problem.field}: {word_message(problem.what)}"
            for problem in error.problems
            if problem.what != error.message
        ]
        raise Stop("\n".join([f"{place}: {whole}", *lines])) from error
