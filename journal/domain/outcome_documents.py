"""Read how a trial is measured and what success is: tables in, Outcome and Criterion out."""

from __future__ import annotations

from journal.domain.challenges import Criterion, Outcome, OutcomeKind
from journal.domain.documents import Table
from journal.domain.numbers import show_number
from journal.domain.outcomes import Direction, DirectionKind

#: What a criterion can be compared with; "" is judged by eye.
CRITERION_MEASURES = ("mean", "best", "reliability", "")

#: Reliability is given as so many of ten trials: a count that a seven-year-old can read.
RELIABILITY_OF = 10


def read_outcome(table: Table) -> Outcome:
    """Read how a trial is measured; whatever is wrong is noted."""
    kind = table.choice("kind", OutcomeKind)
    highest = table.number("highest", "the largest value that can be", 1_000_000.0)
    outcome = Outcome(
        kind=kind,
        name=table.text("name", "what is measured, such as Points"),
        unit=table.text("unit", "points, mm, g, s ..."),
        direction=_read_direction(table),
        amount_name=table.text("amount_name", "what is counted out for each trial", ""),
        amount_unit=table.text("amount_unit", "the amount's unit", ""),
        lowest=table.number("lowest", "the smallest value that can be", 0.0),
        highest=highest,
        step=table.number("step", "how finely it is measured, above 0", 1.0, above=0),
    )
    if outcome.lowest >= highest:
        table.note("highest", f"must be above lowest, which is {show_number(outcome.lowest)}.")
    if outcome.amount_name and not outcome.amount_unit:
        table.note("amount_unit", "is missing. Add the unit of the amount.")
    table.finish()
    return outcome


def read_criterion(row: Table) -> Criterion:
    """Read one criterion; whatever is wrong is noted."""
    measure = row.text("measure", "what is compared with the threshold", "mean")
    if measure not in CRITERION_MEASURES:
        names = ", ".join(repr(name) for name in CRITERION_MEASURES)
        row.note("measure", f"cannot be {measure!r}. Choose one of: {names} (told by eye).")
    hint = "the number that has to be reached"
    threshold = row.number("threshold", hint)
    if measure == "reliability" and not 0 <= threshold <= RELIABILITY_OF:
        row.note("threshold", f"must lie from 0 to {RELIABILITY_OF}: so many of ten trials.")
    criterion = Criterion(
        key=row.key("a short name for the criterion"),
        text=row.text("text", "the criterion in one short sentence"),
        unit=row.text("unit", "the unit of the threshold"),
        direction=_read_direction(row),
        threshold=threshold,
        measure=measure,
    )
    row.finish()
    return criterion


def _read_direction(table: Table) -> Direction:
    kind = table.choice("direction", DirectionKind)
    near = table.find_number("near", "the value that is aimed at")
    if kind is DirectionKind.NEAR and near is None:
        table.note("near", "is missing. Add the value that is aimed at.")
        near = 0.0
    if kind is not DirectionKind.NEAR and near is not None:
        table.note("near", "goes with direction near only. Take it out or choose near.")
        near = None
    return Direction(kind=kind, near=near)
