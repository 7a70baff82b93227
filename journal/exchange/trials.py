"""Reads trials from CSV, many groups in one text: one bad row and nothing is returned.

Comes in: the content of a CSV file. Goes out: `CsvTrial`s, or one `Invalid` that names every bad
row and column; and from them the records that the analysis takes.

Columns: `READERS`. Needed: revision, and one of value or x_mm with y_mm.
Origin is the aim point, x to the right, y up.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, fields
from functools import partial
from typing import Any

from journal.analysis.records import TrialFacts, TrialRecord
from journal.domain.errors import Invalid, Problem
from journal.domain.messages import Message, Words, list_sentences
from journal.domain.outcomes import LESS_IS_BETTER, MORE_IS_BETTER, Direction
from journal.exchange.cells import (
    BadCell,
    read_guest,
    read_handling,
    read_kind,
    read_name,
    read_number,
    read_order,
    read_place,
)
from journal.exchange.problems import TableProblems
from journal.exchange.sheets import Sheet, read_sheet

#: The columns, and how the cells of each are read. Lengths and amounts below zero make no sense,
#: positions and measures may be.
READERS: Mapping[str, Callable[[str], object]] = {
    "group": read_name,
    "revision": read_name,
    "student": read_name,
    "own_part": read_name,
    "handling": read_handling,
    "session": read_name,
    "panel": read_name,
    "order": read_order,
    "kind": read_kind,
    "distance_mm": partial(read_number, lowest=0.0),
    "x_mm": read_number,
    "y_mm": read_number,
    "place": read_place,
    "value": read_number,
    "amount": partial(read_number, lowest=0.0),
    "misfire": lambda text: read_name(text) or None,
    "guest": read_guest,
    "owner": read_name,
}


COLUMNS = tuple(READERS)


@dataclass(frozen=True, slots=True, kw_only=True)
class CsvTrial(TrialFacts):
    """One row of the file, read."""

    #: As a person counts: the header is row 1.
    row: int
    group: str
    order: int | None


def read_trials(content: str | bytes, *, ignore_unknown: bool = False) -> list[CsvTrial]:
    """Read the whole file; raise Invalid with every problem in it, row and column named."""
    sheet = read_sheet(content, COLUMNS)
    _require_header(sheet.header, ignore_unknown=ignore_unknown)
    problems = TableProblems()
    read = [_read_row(row, sheet, cells, problems) for row, cells in sheet.rows]
    trials = [trial for trial in read if trial is not None]
    if not sheet.rows:
        message = Message("csv_trials.no_trial_below_the_names_of_the_columns")
        raise Invalid.at("row 2", message)
    problems.finish()
    return trials


def _require_header(header: Sequence[str], *, ignore_unknown: bool) -> None:
    problems = []
    twice = sorted({name for name in header if name and header.count(name) > 1})
    problems += [
        Problem("row 1", Message("csv_trials.column_is_there_twice", name=name)) for name in twice
    ]
    if not ignore_unknown:
        problems += [
            Problem("row 1", Message("csv_trials.column_is_not_known", name=name))
            for name in header
            if name not in COLUMNS
        ]
    if "revision" not in header:
        problems.append(Problem("row 1", Message("csv_trials.column_revision_is_missing")))
    if "value" not in header and not {"x_mm", "y_mm"} <= set(header):
        message = Message("csv_trials.no_column_with_a_measure")
        problems.append(Problem("row 1", message))
    if problems:
        raise Invalid(Message("csv_trials.first_row_needs_mending"), problems)


def _read_row(
    row: int, sheet: Sheet, cells: Sequence[str], problems: TableProblems
) -> CsvTrial | None:
    """Read one row; None, and what is wrong with it added to the problems, where it is not well."""
    header = sheet.header
    if len(cells) != len(header):
        message = Message(
            "csv_trials.row_has_cells", row=row, cells=len(cells), first_row=len(header)
        )
        if len(cells) > len(header) and sheet.separator == ",":
            decimals = Message("csv_trials.write_decimals_with_a_point")
            message = list_sentences((message, decimals))
        problems.note(row, "", message)
        return None
    texts = dict.fromkeys(COLUMNS, "") | {
        name: cell for name, cell in zip(header, cells, strict=True) if name in COLUMNS
    }
    found: dict[str, Any] = {}
    wrong: list[tuple[str, Words]] = []
    for column, read in READERS.items():
        try:
            found[column] = read(texts[column])
        except BadCell as bad:
            wrong.append((column, bad.message))
    wrong += _wrong_together(texts)
    for column, what in wrong:
        problems.note(row, column, what)
    return None if wrong else CsvTrial(row=row, **found)


def _wrong_together(texts: Mapping[str, str]) -> list[tuple[str, Words]]:
    """Return what is wrong with cells that are well by themselves, as (column, sentence)."""
    wrong: list[tuple[str, Words]] = []
    if not texts["revision"]:
        wrong.append(("revision", Message("csv_trials.revision_is_missing")))
    if bool(texts["x_mm"]) != bool(texts["y_mm"]):
        column = "y_mm" if texts["x_mm"] else "x_mm"
        wrong.append((column, Message("csv_trials.hit_needs_both_x_mm_and_y_mm")))
    if not any(texts[column] for column in ("value", "x_mm", "y_mm", "place", "misfire")):
        message = Message("csv_trials.no_measure")
        wrong.append(("value", message))
    if texts["guest"] and texts["owner"]:
        wrong.append(("owner", Message("guest_tests.guest_or_owner")))
    if texts["owner"] and texts["owner"] == texts["group"]:
        wrong.append(("owner", Message("guest_tests.own_device")))
    return wrong


def direction_of(trials: Iterable[CsvTrial], asked: Direction | None = None) -> Direction:
    """Return the direction asked for; else more, or less where the distance to aim is measured."""
    if asked is not None:
        return asked
    return MORE_IS_BETTER if measured_by_value(trials) else LESS_IS_BETTER


def measured_by_value(trials: Iterable[CsvTrial]) -> bool:
    """Tell whether the value column holds the outcome; else it is the distance from the aim point.

    One file has one outcome: where any trial has a value, the distance is no outcome.
    """
    return any(trial.value is not None for trial in trials)


def records_of(trials: Sequence[CsvTrial]) -> dict[str, list[TrialRecord]]:
    """Return the records of each group, groups in order of first appearance.

    Row order stands in for the order of a group's trials where one of them has none.
    """
    by_value = measured_by_value(trials)
    groups: dict[str, list[CsvTrial]] = {}
    for trial in trials:
        groups.setdefault(trial.group, []).append(trial)
    return {
        group: [
            _record_of(trial, order, by_value=by_value)
            for trial, order in zip(own, _orders_of(own), strict=True)
        ]
        for group, own in groups.items()
    }


def _orders_of(trials: Sequence[CsvTrial]) -> list[int]:
    orders = [trial.order for trial in trials if trial.order is not None]
    return orders if len(orders) == len(trials) else [trial.row for trial in trials]


def _record_of(trial: CsvTrial, order: int, *, by_value: bool) -> TrialRecord:
    value = trial.value
    if not by_value and trial.x_mm is not None and trial.y_mm is not None:
        value = math.hypot(trial.x_mm, trial.y_mm)
    facts = {each.name: getattr(trial, each.name) for each in fields(TrialFacts)}
    return TrialRecord(order=order, **facts | {"value": value})
