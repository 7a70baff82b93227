"""What is wrong with a table: every problem with row and column, so that all are mended at once."""

from __future__ import annotations

from dataclasses import dataclass, field

from journal.domain.errors import Invalid, Problem
from journal.domain.messages import Message, Words


@dataclass(slots=True)
class TableProblems:
    """Everything found wrong so far; each sentence once a row and column."""

    found: list[Problem] = field(default_factory=list)
    #: The rows that need mending.
    rows: set[int] = field(default_factory=set)

    def note(self, row: int, column: str, what: Words) -> None:
        """Note what is wrong with one cell; without a column ("") with the whole row."""
        problem = Problem(f"row {row}, {column}" if column else f"row {row}", what)
        self.rows.add(row)
        if problem not in self.found:
            self.found.append(problem)

    def finish(self) -> None:
        """Raise Invalid with everything noted, unless nothing was."""
        if self.found:
            message = Message("csv_trials.rows_need_mending", count=len(self.rows))
            raise Invalid(message, self.found)
