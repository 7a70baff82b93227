"""The drawings of findings, each with its table: results in order, boxes, an amount beside them.

Comes in: a GroupRecord and its findings. Goes out: Drawings, None where there is nothing to draw.
"""

from __future__ import annotations

from collections.abc import Sequence

from journal.analysis.amounts import AmountFinding
from journal.analysis.records import by_revision, measured_values
from journal.analysis.shapes import LEAST_FOR_STRIKING
from journal.charts.boxes import Box, box_table, draw_boxes
from journal.charts.lines import TimedOutcome, draw_outcome_line, outcome_table
from journal.charts.scatters import AmountPoint, TrendLine, draw_scatter, scatter_table
from journal.content.messages import word_message
from journal.domain.factor_values import name_quantity
from journal.domain.group_records import GroupRecord
from journal.domain.messages import Message
from journal.domain.part_states import PartState
from journal.findings.amounts import AmountWords
from journal.findings.group_findings import RevisionFinding
from journal.findings.trial_records import label_revision, records_of
from journal.pictures.drawings import MOST_ROWS, Drawing

#: More dots than this cannot be told apart on a page: the newest ones are drawn.
MOST_DOTS = 400


def draw_course(
    record: GroupRecord, *, width_px: float, text_px: float = 16, ids: str = "course"
) -> Drawing | None:
    """Draw the main part's results in the order of the trials, with a mark at each revision."""
    main = record.main_part
    records = () if main is None else records_of(record, main)
    if main is None or not records:
        return None
    numbers = {label_revision(main, revision): str(revision.number) for revision in main.revisions}
    names = {str(student_id): nickname for student_id, nickname in record.nicknames.items()}
    newest = records[-1].revision
    trials, numbered = record.usable_trials, record.trial_numbers
    outcomes = [
        TimedOutcome(
            number=numbered[trials[trial_record.order].id],
            value=trial_record.measured,
            revision=numbers[trial_record.revision],
            newest=trial_record.revision == newest,
            who=names.get(trial_record.student, ""),
        )
        for trial_record in records[-MOST_DOTS:]
    ]
    unit = record.context.challenge.outcome.unit.capitalize()
    message = Message("finding_drawings.results_of_in_order", name=main.name)
    if len(records) > MOST_DOTS:
        message = Message(
            "finding_drawings.newest_results_of_in_order",
            name=main.name,
            newest=MOST_DOTS,
            all=len(records),
        )
    title = word_message(message, record.language)
    return Drawing(
        svg=draw_outcome_line(
            outcomes, value_name=unit, width_px=width_px, text_px=text_px, ids=ids, title=title
        ),
        table=outcome_table(outcomes[-MOST_ROWS:], value_name=unit, caption=title),
    )


def draw_boxes_of(
    record: GroupRecord,
    findings: Sequence[RevisionFinding],
    *,
    width_px: float,
    text_px: float = 16,
    ids: str = "boxes",
) -> Drawing | None:
    """Draw a box over its dots for each revision of the main part with enough trials for one."""
    main = record.main_part
    if main is None:
        return None
    sorted_out = by_revision(records_of(record, main))
    boxes = [
        box
        for finding in findings
        if finding.part_id == main.part.id
        and (box := _box(finding, measured_values(sorted_out.get(finding.label, [])))) is not None
    ]
    if not boxes:
        return None
    unit = record.context.challenge.outcome.unit.capitalize()
    title = word_message(
        Message("finding_drawings.half_of_the_results_of_lie_in_each", name=main.name),
        record.language,
    )
    return Drawing(
        svg=draw_boxes(
            boxes, value_name=unit, width_px=width_px, text_px=text_px, ids=ids, title=title
        ),
        table=box_table(boxes),
    )


def _box(finding: RevisionFinding, values: Sequence[float]) -> Box | None:
    summary = finding.summary
    inside = summary.without_striking or summary
    if (
        summary.n < LEAST_FOR_STRIKING
        or inside.lowest is None
        or inside.highest is None
        or summary.lower_quartile is None
        or summary.upper_quartile is None
        or summary.median is None
    ):
        return None
    return Box(
        name=finding.label,
        lowest=inside.lowest,
        lower_quartile=summary.lower_quartile,
        median=summary.median,
        upper_quartile=summary.upper_quartile,
        highest=inside.highest,
        values=tuple(values[-MOST_DOTS:]),
        striking=summary.striking[-MOST_DOTS:],
    )


def draw_amounts(
    record: GroupRecord,
    amount: AmountWords,
    *,
    width_px: float,
    text_px: float = 16,
    ids: str = "amounts",
) -> Drawing | None:
    """Draw an amount beside the results, with the middle line where the analysis has one."""
    if amount.found.cannot_say is not None:
        return None
    outcome = record.context.challenge.outcome
    points = [
        AmountPoint(amount=trial_record.amount, value=trial_record.value)
        for trial_record in amount.records[-MOST_DOTS:]
        if trial_record.amount is not None and trial_record.value is not None
    ]
    amount_name = name_quantity(amount.name, amount.unit)
    unit = outcome.unit.capitalize()
    title = f"{amount.name} and {outcome.unit}"
    return Drawing(
        svg=draw_scatter(
            points,
            amount_name=amount_name,
            value_name=unit,
            line=_line(amount.found),
            width_px=width_px,
            text_px=text_px,
            ids=ids,
            title=title,
        ),
        table=scatter_table(
            points[-MOST_ROWS:], amount_name=amount_name, value_name=unit, caption=title
        ),
    )


def _line(found: AmountFinding) -> TrendLine | None:
    if found.slope is None or found.height is None:
        return None
    return TrendLine(slope=found.slope, intercept=found.height)


def newest_tested(
    state: PartState | None, found: Sequence[RevisionFinding]
) -> RevisionFinding | None:
    """Return the finding of the part's newest revision that has trials."""
    tested = [
        finding
        for finding in found
        if state is not None
        and finding.part_id == state.part.id
        and finding.summary.n + finding.summary.misfires + finding.summary.without_value
    ]
    return tested[-1] if tested else None
