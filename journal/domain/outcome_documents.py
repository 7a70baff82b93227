"""Read how a trial is measured and what success is: tables in, Outcome and Criterion out."""

from __future__ import annotations

from journal.domain.challenges import Criterion, Outcome, OutcomeKind
from journal.domain.documents import Table
from journal.domain.messages import Message
from journal.domain.outcomes import Direction, DirectionKind

#: What a criterion can be compared with; "" is judged by eye.
CRITERION_MEASURES = ("mean", "best", "reliability", "")

#: Reliability is given as so many of ten trials: a count that a seven-year-old can read.
RELIABILITY_OF = 10


def read_outcome(table: Table) -> Outcome:
    """Read how a trial is measured; whatever is wrong is noted."""
    kind = table.choice("kind", OutcomeKind)
    highest = table.number(
        "highest", Message("outcome_documents.largest_value_that_can_be"), 1_000_000.0
    )
    outcome = Outcome(
        kind=kind,
        name=table.text("name", Message("outcome_documents.what_is_measured")),
        unit=table.text("unit", Message("outcome_documents.points_mm_g_s")),
        direction=_read_direction(table),
        amount_name=table.text(
            "amount_name", Message("outcome_documents.what_is_counted_out_for_each_trial"), ""
        ),
        amount_unit=table.text("amount_unit", Message("outcome_documents.the_amounts_unit"), ""),
        lowest=table.number("lowest", Message("outcome_documents.smallest_value_that_can_be"), 0.0),
        highest=highest,
        step=table.number(
            "step", Message("outcome_documents.how_finely_it_is_measured"), 1.0, above=0
        ),
    )
    if outcome.lowest >= highest:
        table.note(
            "highest", Message("outcome_documents.must_be_above_lowest", lowest=outcome.lowest)
        )
    if outcome.amount_name and not outcome.amount_unit:
        table.note("amount_unit", Message("outcome_documents.is_missing"))
    table.finish()
    return outcome


def read_criterion(row: Table) -> Criterion:
    """Read one criterion; whatever is wrong is noted."""
    measure = row.text(
        "measure", Message("outcome_documents.what_is_compared_with_the_threshold"), "mean"
    )
    if measure not in CRITERION_MEASURES:
        names = tuple(repr(name) for name in CRITERION_MEASURES)
        row.note(
            "measure", Message("outcome_documents.cannot_be", measure=repr(measure), names=names)
        )
    hint = Message("outcome_documents.number_that_has_to_be_reached")
    threshold = row.number("threshold", hint)
    if measure == "reliability" and not 0 <= threshold <= RELIABILITY_OF:
        row.note(
            "threshold",
            Message("outcome_documents.must_lie_from_0_to", reliability_of=RELIABILITY_OF),
        )
    criterion = Criterion(
        key=row.key(Message("outcome_documents.short_name_for_the_criterion")),
        text=row.text("text", Message("outcome_documents.criterion_in_one_short_sentence")),
        unit=row.text("unit", Message("outcome_documents.unit_of_the_threshold")),
        direction=_read_direction(row),
        threshold=threshold,
        measure=measure,
    )
    row.finish()
    return criterion


def _read_direction(table: Table) -> Direction:
    kind = table.choice("direction", DirectionKind)
    near = table.find_number("near", Message("outcome_documents.value_that_is_aimed_at"))
    if kind is DirectionKind.NEAR and near is None:
        table.note("near", Message("outcome_documents.is_missing_add"))
        near = 0.0
    if kind is not DirectionKind.NEAR and near is not None:
        table.note("near", Message("outcome_documents.goes_with_direction_near_only"))
        near = None
    return Direction(kind=kind, near=near)
