"""The teacher's page of one group: what its trials say, who hit where, what was agreed."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from journal.content.messages import word_message
from journal.content.shown_times import show_day, show_time
from journal.content.teacher_words import word_for_teacher
from journal.domain.group_records import GroupRecord
from journal.domain.messages import Message
from journal.domain.needs import find_need
from journal.domain.numbers import show_number
from journal.domain.permits import require_may_teach
from journal.findings.group_findings import GroupFindings, RevisionFinding, find_for_group
from journal.findings.needs import describe_need, need_facts_of
from journal.findings.visits import describe_last_visit
from journal.findings.voices import TEACHER_BAND
from journal.pictures.drawings import (
    MOST_ROWS,
    Drawing,
    draw_family_with_table,
    draw_walk_with_table,
)
from journal.pictures.finding_drawings import newest_tested
from journal.pictures.group_pictures import caption_of
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import Work
from journal.screens.desk.course_blocks import CourseBlock, show_course
from journal.screens.desk.finding_blocks import (
    BesideBlock,
    HitsBlock,
    UseBlock,
    set_beside,
    show_hits,
    show_use,
)
from journal.screens.desk.frames import frame_class
from journal.screens.desk.group_glances import pulse_of
from journal.screens.desk.side_notes import SideNotes, gather_side_notes
from journal.screens.frames import DeskFrame
from journal.screens.swap_offers import SwapLinks, link_swaps
from journal.screens.trial_lines import TrialLine, trial_lines

PICTURE_PX = 860


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupHead:
    """Who the group is and how long ago the teacher was there."""

    id: UUID
    number: int
    members: str
    class_id: UUID
    reason: str
    since_visit: str
    near_misses: tuple[str, ...]
    swaps: SwapLinks
    #: Title and id of each other challenge that the class has worked on.
    others: tuple[tuple[str, str], ...]
    challenge_id: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RevisionLine:
    """A revision with what its trials say, for the teacher."""

    label: str
    caption: str
    reason: str
    prediction: str
    state: str
    sentences: tuple[str, ...]
    beside: tuple[str, ...]
    #: The same beside the best one before it, where that is another; named in `best`.
    beside_best: tuple[str, ...]
    best: str
    fairness: tuple[str, ...]
    striking: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstBlock:
    """The Finding: what is said first, and the newest revision beside others."""

    sentences: tuple[str, ...]
    stall: str
    fairness: tuple[str, ...]
    beside: tuple[BesideBlock, ...]
    #: What could not be worked out; empty as a rule.
    cannot_say: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupPage:
    """The teacher's page of a group."""

    frame: DeskFrame
    head: GroupHead
    side: SideNotes
    first: FirstBlock
    use: UseBlock
    hits: HitsBlock | None
    course: CourseBlock
    pictures: tuple[Drawing, ...]
    revisions: tuple[RevisionLine, ...]
    trials: tuple[TrialLine, ...]
    #: Says how many trials there are where not all are listed; else "".
    trials_note: str


def prepare_findings(
    work: Work, group_id: UUID, challenge_id: UUID | None = None, *, with_intervals: bool = False
) -> GroupPage:
    """Gather the page; `with_intervals` with what takes seconds to work out.

    It is about the present challenge, unless another one of the class is named.
    """
    context = get_group_context(work, group_id, challenge_id)
    require_may_teach(work.actor, context.school_class)
    record = gather_group(work, context)
    findings = find_for_group(record, TEACHER_BAND, with_intervals=with_intervals)
    lines = trial_lines(record)
    note = (
        word_message(
            Message("findings.newest_of_trials", most_rows=MOST_ROWS, count=len(lines)),
            context.school_class.language,
        )
        if len(lines) > MOST_ROWS
        else ""
    )
    return GroupPage(
        frame=frame_class(
            record.context.school_class,
            record.group.name,
            f"{record.context.challenge.title}, {record.context.school_class.name}",
            title=f"{record.group.name}, findings",
            tested=[record.context.challenge],
        ),
        head=_head(work, record, findings),
        side=gather_side_notes(record, findings),
        first=_first(record, findings),
        use=show_use(record, findings, with_intervals=with_intervals),
        hits=show_hits(record, findings, record.main_part, with_intervals=with_intervals),
        course=show_course(record, findings),
        pictures=(
            draw_walk_with_table(record, width_px=PICTURE_PX),
            draw_family_with_table(record, width_px=PICTURE_PX),
        ),
        revisions=_revisions(record, findings),
        trials=lines[: -MOST_ROWS - 1 : -1],
        trials_note=note,
    )


def _head(work: Work, record: GroupRecord, findings: GroupFindings) -> GroupHead:
    now = work.now()
    need = find_need(pulse_of(record, now), now)
    return GroupHead(
        id=record.group.id,
        number=record.group.number,
        members=", ".join(member.nickname for member in record.group.present_members),
        class_id=record.context.school_class.id,
        reason=describe_need(need_facts_of(record), need) if record.context.running else "",
        since_visit=describe_last_visit(record, now),
        near_misses=tuple(
            f"{show_day(miss.noted_at)}, {show_time(miss.noted_at)}. {miss.note}".strip()
            for miss in record.near_misses
        ),
        swaps=link_swaps(record, findings, TEACHER_BAND),
        others=tuple((challenge.title, str(challenge.id)) for challenge in record.context.others),
        challenge_id=str(record.context.challenge_id),
    )


def _first(record: GroupRecord, findings: GroupFindings) -> FirstBlock:
    newest = newest_tested(record.main_part, findings.revisions)
    fairness = None if newest is None else newest.fairness
    first = newest.beside if newest is not None and newest.beside else findings.sentences
    return FirstBlock(
        sentences=first,
        stall=findings.stall_sentence,
        fairness=()
        if fairness is None
        else tuple(sentence for sentence in fairness.sentences if sentence not in first),
        beside=set_beside(record, findings, newest),
        cannot_say=findings.cannot_say,
    )


def _revisions(record: GroupRecord, findings: GroupFindings) -> tuple[RevisionLine, ...]:
    lines = []
    main = record.main_part
    of_main = [
        finding for finding in findings.revisions if main and finding.part_id == main.part.id
    ]
    others = [finding for finding in findings.revisions if finding not in of_main]
    newest_first = (*reversed(of_main), *others)
    for revised in newest_first:
        found = record.find_revision(revised.revision_id)
        if found is None:
            continue
        state, revision = found
        lines.append(
            RevisionLine(
                label=revised.label,
                caption=caption_of(state, revision),
                reason=revision.reason,
                prediction=revision.prediction,
                state="set aside" if revision.is_set_aside else "",
                sentences=revised.sentences,
                beside=revised.beside,
                beside_best=revised.beside_best,
                best="" if revised.best_comparison is None else revised.best_comparison.old,
                fairness=() if revised.fairness is None else revised.fairness.sentences,
                striking=_striking(revised, record.language),
            )
        )
    return tuple(lines)


def _striking(found: RevisionFinding, language: str) -> str:
    """Say which values stand far out, with the middle with and without them."""
    summary, without = found.summary, found.summary.without_striking
    if without is None:
        return ""
    return word_for_teacher(
        "striking",
        language,
        count=len(summary.striking),
        values=", ".join(show_number(value) for value in sorted(set(summary.striking))),
        mean=summary.mean,
        median=summary.median,
        mean_without=without.mean,
        median_without=without.median,
    )
