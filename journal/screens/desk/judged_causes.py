"""What the causes turned out to be in a class, beside what the journal said."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from journal.content.messages import word_message
from journal.content.rounding import show_in_tenths
from journal.content.shown_times import show_day
from journal.domain.diagnoses import JudgedCause, TrackRecord, count_right
from journal.domain.messages import Message
from journal.findings.diagnosis_words import name_reading
from journal.records.work import Work
from journal.screens.desk.frames import frame_class
from journal.screens.frames import DeskFrame
from journal.services.classes import get_own_class
from journal.store import diagnoses, groups


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgedLine:
    """One cause as it was said and as it turned out."""

    when: str
    group: str
    said: str
    turned_out: str
    came_out: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JudgedPage:
    """The journal's record of being right in a class."""

    frame: DeskFrame
    class_id: UUID
    sentence: str
    lines: tuple[JudgedLine, ...]


def prepare_judged(work: Work, class_id: UUID) -> JudgedPage:
    """Return the record of a class."""
    school_class = get_own_class(work, class_id)
    judged = diagnoses.judged_causes_of_class(work.session, class_id)
    names = {group.id: group.name for group in groups.groups_of_class(work.session, class_id)}
    return JudgedPage(
        frame=frame_class(
            school_class,
            word_message(Message("judged_causes.what_it_turned_out_to_be"), school_class.language),
            school_class.name,
        ),
        class_id=class_id,
        sentence=word_message(_describe_record(count_right(judged)), school_class.language),
        lines=tuple(
            JudgedLine(
                when=show_day(cause.judged_at),
                group=names.get(cause.group_id, "A former group"),
                said=_describe_judged(cause, school_class.language),
                turned_out=name_reading(cause.turned_out, school_class.language),
                came_out=""
                if not cause.spoke
                else "as said"
                if cause.was_right
                else "other than said",
                note=cause.note,
            )
            for cause in reversed(judged)
        ),
    )


def _describe_record(found: TrackRecord) -> Message:
    if not found.judged:
        return Message("judged_causes.nothing_is_marked_yet")
    if not found.spoke:
        return Message("judged_causes.marked_and_nothing_named", count=found.judged)
    return Message(
        "judged_causes.marked_and_named",
        count=found.judged,
        spoke=found.spoke,
        right=found.right,
    )


def _describe_judged(judged: JudgedCause, language: str) -> str:
    name = name_reading(judged.said, language)
    trials = _count(judged.trials, "trial")
    return (
        f"{name}, {show_in_tenths(judged.in_100)}, {trials}"
        if judged.spoke
        else f"{name}, {trials}"
    )


def _count(n: int, word: str) -> str:
    return f"1 {word}" if n == 1 else f"{n} {word}s"
