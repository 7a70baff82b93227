"""Results in order and amounts beside them, for the teacher's page: findings in, blocks out."""

from __future__ import annotations

from dataclasses import dataclass

from journal.domain.group_records import GroupRecord
from journal.findings.amounts import AmountWords
from journal.findings.group_findings import GroupFindings
from journal.pictures.drawings import Drawing
from journal.pictures.finding_drawings import draw_amounts, draw_boxes_of, draw_course

_COURSE_PX = 860
_WIDTH_PX = 660


@dataclass(frozen=True, slots=True, kw_only=True)
class AmountBlock:
    """An amount beside the results."""

    heading: str
    sentences: tuple[str, ...]
    drawing: Drawing | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseBlock:
    """Results in order and in boxes, practice, and amounts."""

    drawings: tuple[Drawing, ...]
    practice: str
    amounts: tuple[AmountBlock, ...]


def _describe(amount: AmountWords) -> tuple[str, ...]:
    """Say what was found and among which trials; a refusal needs no more than its reason."""
    if amount.found.cannot_say is not None:
        return amount.sentences
    return (*amount.sentences, amount.among, *amount.figures)


def show_course(record: GroupRecord, findings: GroupFindings) -> CourseBlock:
    """Return the results in order, boxes, practice and amounts."""
    drawings = (
        draw_course(record, width_px=_COURSE_PX),
        draw_boxes_of(record, findings.revisions, width_px=_WIDTH_PX),
    )
    unit = record.context.challenge.outcome.unit
    return CourseBlock(
        drawings=tuple(drawing for drawing in drawings if drawing is not None),
        practice=findings.practice.sentence,
        amounts=tuple(
            AmountBlock(
                heading=f"{amount.name} and {unit}",
                sentences=_describe(amount),
                drawing=draw_amounts(record, amount, width_px=_WIDTH_PX, ids=f"amount-{number}"),
            )
            for number, amount in enumerate(findings.amounts)
        ),
    )
