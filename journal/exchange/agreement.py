"""Reads two scorers' levels for the same portfolios from CSV: levels and their order out.

scorer_a,scorer_b
3,4
2,2
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from journal.domain.errors import Invalid, Problem
from journal.domain.messages import Message
from journal.domain.numbers import NoNumber, read_whole
from journal.exchange.sheets import read_sheet

COLUMNS = ("scorer_a", "scorer_b")
#: A rubric has a handful of levels; a span of numbers beyond this is a slip.
MOST_LEVELS = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class ScoredTwice:
    """Levels of both scorers, portfolio by portfolio, and all levels from low to high."""

    first: tuple[str, ...]
    second: tuple[str, ...]
    levels: tuple[str, ...]


def read_scored_twice(content: str | bytes, levels: Sequence[str] = ()) -> ScoredTwice:
    """Read a CSV with the columns scorer_a and scorer_b; a row with neither level is left out.

    Without `levels` they are whole numbers, and every number between the least and the most is a
    level, used or not. Raises Invalid naming each line that is to be mended.
    """
    sheet = read_sheet(content, COLUMNS)
    missing = [name for name in COLUMNS if name not in sheet.header]
    if missing:
        what = Message("agreement.no_column", missing=tuple(missing))
        raise Invalid.at("1", what)
    problems: list[Problem] = []
    pairs = []
    for line, row in sheet.rows:
        cells = dict(zip(sheet.header, row, strict=False))
        pair = tuple(cells.get(name, "") for name in COLUMNS)
        if any(pair):
            pairs.append(_read_pair(pair, levels, line, problems))
    if problems:
        raise Invalid.of(problems, by_line=True)
    return ScoredTwice(
        first=tuple(pair[0] for pair in pairs),
        second=tuple(pair[1] for pair in pairs),
        levels=tuple(levels) or _span(pairs),
    )


def _read_pair(
    pair: Sequence[str], levels: Sequence[str], line: int, problems: list[Problem]
) -> tuple[str, ...]:
    """Return both levels of a line, a number in one way; what is wrong is added to the problems."""
    plain = []
    for name, level in zip(COLUMNS, pair, strict=True):
        what: Message | None = None
        shown = level
        if not level:
            what = Message("agreement.is_empty")
        elif levels and level not in levels:
            what = Message("agreement.none_of_the_levels", level=level, levels=tuple(levels))
        elif not levels:
            try:
                shown = str(read_whole(level))
            except NoNumber:
                what = Message("agreement.no_whole_number", level=level)
        plain.append(shown)
        if what:
            problems.append(
                Problem(str(line), Message("agreement.line", line=line, name=name, what=what))
            )
    return tuple(plain)


def _span(pairs: Sequence[Sequence[str]]) -> tuple[str, ...]:
    numbers = [int(level) for pair in pairs for level in pair]
    if not numbers:
        return ()
    if max(numbers) - min(numbers) >= MOST_LEVELS:
        what = Message("agreement.levels_go_from_to", least=min(numbers), most=max(numbers))
        raise Invalid.at("levels", what)
    return tuple(str(number) for number in range(min(numbers), max(numbers) + 1))
