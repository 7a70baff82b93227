"""What stands beside a group's findings: criteria, what was said on the ladder, visits."""

from __future__ import annotations

from dataclasses import dataclass

from journal.content.question_languages import find_question_language
from journal.content.shown_times import show_day, show_time
from journal.domain.group_records import GroupRecord
from journal.domain.ladders import Answer
from journal.domain.messages import Message
from journal.findings.group_findings import GroupFindings
from journal.findings.standing import describe_standing
from journal.pictures.answer_quotes import quote_answer

#: A sketch in the margin column.
_SKETCH_PX = 220


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """Something said or noted, with when."""

    when: str
    what: str
    #: Of `what`, where it may be another one than the page's.
    language: str = ""
    answer: str = ""
    #: What was drawn, as SVG; "" without.
    drawing: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SideNotes:
    """What stands in the margin: criteria, the ladder, visits."""

    criteria: tuple[tuple[str, str], ...]
    ladder: tuple[Said, ...]
    visits: tuple[Said, ...]


def gather_side_notes(record: GroupRecord, findings: GroupFindings) -> SideNotes:
    """Return the notes, what came last first."""
    return SideNotes(
        criteria=tuple(describe_standing(record, findings)),
        ladder=_ladder(record),
        visits=_visits(record),
    )


def _ladder(record: GroupRecord) -> tuple[Said, ...]:
    return tuple(
        _said(record, answer)
        for climb in reversed(record.climbs)
        for answer in reversed(climb.answers)
    )


def _said(record: GroupRecord, answer: Answer) -> Said:
    language = record.language
    quote = quote_answer(
        answer,
        record.group,
        width_px=_SKETCH_PX,
        said=Message("answer_quotes.said_to_the_teacher"),
        language=record.language,
    )
    return Said(
        when=f"{show_day(answer.answered_at)}, {show_time(answer.answered_at)}",
        what=answer.question,
        language=find_question_language(answer.question) or language,
        answer=quote.words,
        drawing=quote.drawing,
    )


def _visits(record: GroupRecord) -> tuple[Said, ...]:
    return tuple(
        Said(
            when=f"{show_day(visit.visited_at)}, {show_time(visit.visited_at)}",
            what=visit.reason,
            answer=visit.note,
        )
        for visit in reversed(record.visits)
    )
