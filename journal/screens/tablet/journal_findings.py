"""What a group reads of its findings: two sentences, its dots, and more on demand.

Comes in: a GroupRecord and its findings in the class's own words. Goes out: ready values, as far as
the class's measures are open.
"""

from __future__ import annotations

from dataclasses import dataclass

from journal.domain.group_records import GroupRecord
from journal.findings.group_findings import GroupFindings
from journal.findings.measures import measures_of
from journal.findings.starts import say_build_first
from journal.pictures.drawings import Drawing, draw_trials_with_table
from journal.pictures.finding_drawings import (
    draw_amounts,
    draw_boxes_of,
    draw_course,
    newest_tested,
)

#: Drawings on the whole width of a tablet, with text that a child can read.
_WIDTH_PX, _TEXT_PX = 760, 18


@dataclass(frozen=True, slots=True, kw_only=True)
class JournalFinding:
    """The Finding as the group reads it."""

    sentences: tuple[str, ...]
    #: What to do first where there is no revision yet; else "".
    build_first: str
    #: That the budget is broken; "" where it is not.
    over_budget: str
    #: None before the first revision of the main part, and where dot plots are closed.
    dots: Drawing | None
    #: What more there is to say of the newest tested revision.
    more: tuple[str, ...]
    drawings: tuple[Drawing, ...]


def show_finding(record: GroupRecord, findings: GroupFindings) -> JournalFinding:
    """Return the Finding with its drawings."""
    measures, main = measures_of(record.context.school_class), record.main_part
    drawings = (
        draw_boxes_of(record, findings.revisions, width_px=_WIDTH_PX, text_px=_TEXT_PX)
        if measures.show_box_plot
        else None,
        draw_course(record, width_px=_WIDTH_PX, text_px=_TEXT_PX)
        if measures.show_scatter_plot
        else None,
        *(
            draw_amounts(
                record, amount, width_px=_WIDTH_PX, text_px=_TEXT_PX, ids=f"amount-{number}"
            )
            for number, amount in enumerate(findings.amounts if measures.show_scatter_plot else ())
        ),
    )
    budget = findings.budget
    has_dots = measures.show_dot_plot and main is not None and main.revisions
    return JournalFinding(
        sentences=findings.sentences,
        build_first=say_build_first(record),
        over_budget=budget.sentence if budget is not None and budget.is_broken else "",
        dots=draw_trials_with_table(record, main) if has_dots and main is not None else None,
        more=_more(record, findings),
        drawings=tuple(drawing for drawing in drawings if drawing is not None),
    )


def _more(record: GroupRecord, findings: GroupFindings) -> tuple[str, ...]:
    """Say what is not among the first sentences: numbers, fair test, place of hits, amount."""
    newest = newest_tested(record.main_part, findings.revisions)
    if newest is None:
        return ()
    measures = measures_of(record.context.school_class)
    sentences = [*newest.sentences, *newest.beside, *newest.beside_best]
    if newest.fairness is not None:
        sentences += newest.fairness.sentences
    sentences.append(findings.handling.sentence)
    if findings.hits.by_revision:
        where = findings.hits.by_revision[-1]
        sentences += (*where.sentences, *where.figures)
    if measures.show_scatter_plot:
        logged = record.context.challenge.outcome.amount_name
        # That a changed factor says nothing yet is left to the teacher's page.
        sentences += [
            said
            for amount in findings.amounts
            if amount.name == logged or amount.found.cannot_say is None
            for said in amount.sentences
        ]
    sentences += findings.cannot_say
    return tuple(
        sentence
        for sentence in dict.fromkeys(sentences)
        if sentence and sentence not in findings.sentences
    )
