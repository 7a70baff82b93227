"""A group's journal of another challenge of its class: read, not written in."""

from __future__ import annotations

from dataclasses import dataclass, replace
from uuid import UUID

from journal.domain.errors import NotFound
from journal.domain.group_contexts import GroupContext
from journal.domain.messages import Message
from journal.findings.group_findings import find_for_group
from journal.pictures.drawings import Drawing, draw_walk_with_table
from journal.records.group_contexts import get_group_context
from journal.records.group_records import gather_group
from journal.records.work import Work
from journal.screens.frames import TabletFrame
from journal.screens.group_frames import frame_group
from journal.screens.tablet.journal_findings import JournalFinding, show_finding
from journal.screens.tablet.journals import PartLines, describe_part
from journal.screens.tablet.stages import CriteriaStrip, criteria_strip


@dataclass(frozen=True, slots=True, kw_only=True)
class EarlierJournalPage:
    """What a group did in a challenge that it does not work on now."""

    frame: TabletFrame
    strip: CriteriaStrip
    finding: JournalFinding
    path: Drawing
    parts: tuple[PartLines, ...]


def prepare_earlier_journal(
    work: Work, group_id: UUID, challenge_id: UUID
) -> EarlierJournalPage | None:
    """Return the page; None for the class's present challenge, which has the journal itself."""
    now = get_group_context(work, group_id)
    if challenge_id == now.challenge_id:
        return None
    if challenge_id not in {challenge.id for challenge in now.others}:
        message = Message("challenges.no_such_challenge_in_this_class")
        raise NotFound(message)
    context = get_group_context(work, group_id, challenge_id)
    record = gather_group(work, context)
    findings = find_for_group(record)
    return EarlierJournalPage(
        frame=_frame(context),
        strip=criteria_strip(context),
        finding=show_finding(record, findings),
        path=draw_walk_with_table(record),
        parts=tuple(describe_part(record, state, findings) for state in record.parts),
    )


def _frame(context: GroupContext) -> TabletFrame:
    # Nothing on the page leads to a launch or a load, and the lane is that of another challenge.
    frame = frame_group(context, f"Our journal, {context.challenge.title}")
    return replace(frame, caution="", lane=None)
