"""How the print of a group's portfolio stands, for the teacher."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from uuid import UUID

from journal.content.messages import word_message
from journal.content.shown_times import show_time
from journal.domain.jobs import JobState
from journal.domain.messages import Message, Words
from journal.records.work import Work
from journal.screens.desk.frames import frame_class
from journal.screens.frames import DeskFrame
from journal.services.portfolios import PortfolioPrint, find_print


class PrintStage(StrEnum):
    """What the page shows."""

    #: Queued or in work.
    WAITED_FOR = "waited for"
    READY = "ready"
    #: Nothing came of it.
    STOPPED = "stopped"
    #: Nothing was asked for, or it was cancelled or removed since.
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintPage:
    """The page of a print, and a mark that changes when it does."""

    frame: DeskFrame
    group_id: UUID
    challenge_id: UUID
    stage: PrintStage
    #: The first is what matters.
    sentences: tuple[str, ...]
    percent: int
    #: A print that can be opened: at what time it was made; "" where there is none.
    made_at: str
    #: Whether the print that is there is no longer what the journal holds.
    is_behind: bool
    seen: str = ""


def prepare_print(
    work: Work, group_id: UUID, challenge_id: UUID | None, has_file: Callable[[UUID], bool]
) -> PrintPage:
    """Return how the print stands; `has_file` tells whether a job's file is there."""
    found = find_print(work, group_id, challenge_id)
    made = found.done if found.done is not None and has_file(found.done.id) else None
    stage = _stage(found, has_print=made is not None)
    language = found.context.school_class.language
    sentences = tuple(word_message(words, language) for words in _sentences(found, stage))
    percent = found.last.percent if found.last is not None else 0
    made_at = show_time(made.ended_at) if made is not None and made.ended_at is not None else ""
    mark = repr((stage, sentences, percent, made_at, found.is_unchanged))
    group, school_class = found.context.group, found.context.school_class
    return PrintPage(
        frame=frame_class(
            school_class,
            "Portfolio",
            f"{group.number} {group.name}, {found.context.challenge.title}",
            title=f"Portfolio of {group.name}",
        ),
        group_id=group_id,
        challenge_id=found.context.challenge_id,
        stage=stage,
        sentences=sentences,
        percent=percent,
        made_at=made_at,
        is_behind=made is not None and not found.is_unchanged,
        seen=hashlib.sha256(mark.encode("utf-8", "surrogatepass")).hexdigest()[:16],
    )


def _stage(found: PortfolioPrint, *, has_print: bool) -> PrintStage:
    if found.is_live:
        return PrintStage.WAITED_FOR
    if found.last is not None and found.last.state is JobState.FAILED:
        return PrintStage.STOPPED
    return PrintStage.READY if has_print else PrintStage.NONE


def _sentences(found: PortfolioPrint, stage: PrintStage) -> tuple[Words, ...]:
    name, last = found.context.group.name, found.last
    if stage is PrintStage.WAITED_FOR:
        goes_on = Message("portfolios.you_can_leave_this_page")
        return (
            Message("portfolios.portfolio_of_is_being_made", name=name),
            *_line(found),
            goes_on,
        )
    if stage is PrintStage.STOPPED and last is not None:
        return (
            Message("portfolios.portfolio_of_could_not_be_printed", name=name),
            last.problem,
        )
    if stage is PrintStage.READY:
        behind = Message("portfolios.something_has_changed_in_the_class_since")
        changed = () if found.is_unchanged else (behind,)
        return (Message("portfolios.portfolio_of_is_ready", name=name), *changed)
    if last is not None and last.state is JobState.CANCELLED:
        return (Message("portfolios.printing_the_portfolio_of_was_cancelled", name=name),)
    return (Message("portfolios.no_print_of_the_portfolio", name=name),)


def _line(found: PortfolioPrint) -> tuple[Message, ...]:
    if found.last is None or found.last.state is not JobState.QUEUED or not found.before:
        return ()
    return (Message("portfolios.prints_before_it", count=found.before),)
