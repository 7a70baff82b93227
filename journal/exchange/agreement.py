"""Two scorers' levels for the same portfolios: the text of a CSV in, their levels and order out.

scorer_a,scorer_b
3,4
2,2
"""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass

from journal.domain.errors import Invalid, Problem

COLUMNS = ("scorer_a", "scorer_b")
#: A rubric has a handful of levels; a span of numbers beyond this is a slip.
MOST_LEVELS = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class ScoredTwice:
    """Levels of both scorers, portfolio by portfolio, and all levels from low to high."""

    first: tuple[str, ...]
    second: tuple[str, ...]
    levels: tuple[str, ...]


def read_scored_twice(text: str, levels: Sequence[str] = ()) -> ScoredTwice:
    """Read a CSV with the columns scorer_a and scorer_b; a row with neither level is left out.

    Without `levels` they are whole numbers, and every number between the least and the most is a
    level, used or not. Raises Invalid naming each line that is to be mended.
    """
    rows = csv.reader(io.StringIO(text.removeprefix("\ufeff")))
    head = [name.strip().lower() for name in next(rows, [])]
    missing = [name for name in COLUMNS if name not in head]
    if missing:
        what = f"Line 1: there is no column {' and none '.join(missing)}. Name both columns there."
        raise Invalid.at("1", what)
    problems: list[Problem] = []
    pairs = []
    for row in rows:
        cells = {name: cell.strip() for name, cell in zip(head, row, strict=False)}
        pair = tuple(cells.get(name, "") for name in COLUMNS)
        if any(pair):
            _check(pair, levels, rows.line_num, problems)
            pairs.append(pair)
    if problems:
        raise Invalid("\n".join(problem.what for problem in problems), problems)
    plain = pairs if levels else [tuple(str(int(level)) for level in pair) for pair in pairs]
    return ScoredTwice(
        first=tuple(pair[0] for pair in plain),
        second=tuple(pair[1] for pair in plain),
        levels=tuple(levels) or _span(plain),
    )


def _check(pair: Sequence[str], levels: Sequence[str], line: int, problems: list[Problem]) -> None:
    for name, level in zip(COLUMNS, pair, strict=True):
        what = ""
        if not level:
            what = "is empty. Write the level of both scorers, or take the line out."
        elif levels and level not in levels:
            what = f"is “{level}”, which is none of the levels {', '.join(levels)}."
        elif not levels and not _is_whole(level):
            what = (
                f"is “{level}”, which is no whole number. Name the levels from low to high first."
            )
        if what:
            problems.append(Problem(str(line), f"Line {line}: {name} {what}"))


def _is_whole(level: str) -> bool:
    digits = level.removeprefix("-")
    return digits.isascii() and digits.isdigit() and len(digits) <= len(str(MOST_LEVELS))


def _span(pairs: Sequence[Sequence[str]]) -> tuple[str, ...]:
    numbers = [int(level) for pair in pairs for level in pair]
    if not numbers:
        return ()
    if max(numbers) - min(numbers) >= MOST_LEVELS:
        what = (
            f"The levels go from {min(numbers)} to {max(numbers)}: a rubric has fewer. Mend them."
        )
        raise Invalid.at("levels", what)
    return tuple(str(number) for number in range(min(numbers), max(numbers) + 1))
